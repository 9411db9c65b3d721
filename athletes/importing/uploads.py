"""Uploads that end as soon as they are too long, whatever length they announced."""

from collections.abc import Callable

from django.core.files.uploadhandler import FileUploadHandler, StopUpload
from django.http import HttpRequest


def watches_its_length(view: Callable) -> Callable:
    """Marks a view that stops long uploads itself, with a message at its form; others are refused before they begin."""
    view.watches_its_length = True
    return view


class LimitedUpload(FileUploadHandler):
    """Stops an upload past `limit` bytes; `request.upload_too_long` then says so."""

    def __init__(self, request: HttpRequest, limit: int) -> None:
        super().__init__(request)
        self.limit, self.seen = limit, 0
        request.upload_too_long = False

    def handle_raw_input(
        self, input_data: object, META: dict, content_length: int, boundary: bytes, encoding: str | None = None
    ) -> None:
        self.announced = content_length

    def new_file(self, *args: object, **extra: object) -> None:
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
        self.request.upload_too_long = True
        raise StopUpload(connection_reset=False)
