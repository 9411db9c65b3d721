"""Uploads that end as soon as they are too long, whatever length they announced."""

from collections.abc import Callable
from typing import Any, TypeVar, cast

from django.core.files.uploadhandler import FileUploadHandler, StopUpload
from django.http import HttpRequest

V = TypeVar("V", bound=Callable[..., Any])


def watches_its_length(view: V) -> V:
    """Marks a view that stops long uploads itself, with a message at its form; others are refused before they begin."""
    setattr(view, "watches_its_length", True)  # noqa: B010 - functions have no such attribute of their own
    return view


class UploadRequest(HttpRequest):
    """A request whose upload is watched; says whether it was stopped."""

    upload_too_long: bool


class LimitedUpload(FileUploadHandler):
    """Stops an upload past `limit` bytes; `request.upload_too_long` then says so."""

    def __init__(self, request: HttpRequest, limit: int) -> None:
        super().__init__(request)
        self.limit, self.seen = limit, 0
        self.asked = cast(UploadRequest, request)
        self.asked.upload_too_long = False

    def handle_raw_input(
        self, input_data: object, META: dict[str, str], content_length: int, boundary: Any, encoding: str | None = None
    ) -> None:
        self.announced = content_length

    def new_file(self, *args: Any, **extra: Any) -> None:
        super().new_file(*args, **extra)
        if self.announced > self.limit + 1_000_000:
            self._stop()

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes:
        self.seen += len(raw_data)
        if self.seen > self.limit:
            self._stop()
        return raw_data

    def file_complete(self, file_size: int) -> None:
        return None

    def _stop(self) -> None:
        self.asked.upload_too_long = True
        raise StopUpload(connection_reset=False)
