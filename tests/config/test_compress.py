"""Pages go out compressed, pictures as they are, and the length of a page tells little (BREACH)."""

import gzip
from io import BytesIO

from django.test import Client
from django.urls import reverse
from PIL import Image

from athletes.pictures.services import add_picture

ASKS = {"accept-encoding": "gzip"}


def test_a_page_goes_out_compressed_and_reads_the_same(client, db):
    plain = client.get("/sign-in/").content
    packed = client.get("/sign-in/", headers=ASKS)
    assert packed.headers["Content-Encoding"] == "gzip" and "Accept-Encoding" in packed.headers["Vary"]
    assert len(packed.content) < len(plain)
    assert gzip.decompress(packed.content).count(b"<input") == plain.count(b"<input")


def test_a_picture_goes_out_as_it_is(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    jpeg = BytesIO()
    Image.new("RGB", (60, 60)).save(jpeg, "JPEG")
    ada = cast.athletes["ada"]
    row = add_picture(ada, jpeg.getvalue(), cast.cato, taken_on="2026-11-20")
    client = Client()
    client.force_login(cast.cato)
    answer = client.get(reverse("picture-file", args=[ada.pk, row.uid]), headers=ASKS)
    assert answer.status_code == 200 and "Content-Encoding" not in answer.headers


def test_the_length_of_a_compressed_page_varies_by_itself(client, db):
    lengths = {len(client.get("/sign-in/", headers=ASKS).content) for _ in range(12)}
    assert len(lengths) > 4
