"""What the watch over each sync would find: lines as strace 6 writes them."""

import pytest

from tests.faults.syncs import is_kept, requests

POST = '7 recvfrom(9<socket:[1]>, "POST /builds/1/{what} HTTP/1.1\\r\\nHost: 127", 8192, 0, NULL, NULL) = 300'
PART, LOG = "8 fsync(11</i/photos/ab/x.original.q.part>) = 0", "8 fdatasync(5</i/benchtide.db-wal>) = 0"
NAME, FOLDER = '8 rename("/i/photos/ab/x.part", "/i/photos/ab/x") = 0', "8 fsync(12</i/photos/ab>) = 0"
ANSWER = '7 sendto(9<socket:[1]>, "HTTP/1.1 303 SEE OTHER\\r\\n", 400, 0, NULL, 0) = 400'
PHOTO = [PART, NAME, FOLDER]


@pytest.mark.parametrize(
    ("what", "calls", "kept"),
    [
        ("note", [LOG], True),
        ("note", [], False),
        ("note", [FOLDER], False),
        ("photos/new", [*PHOTO * 3, LOG], True),
        ("photos/new", [*PHOTO * 3], False),
        ("photos/new", [*PHOTO * 2, PART, NAME, LOG], False),
        ("photos/new", [LOG, *PHOTO * 3], False),
        ("photos/new", [*PHOTO * 2, NAME, PART, FOLDER, LOG], False),
    ],
)
def test_an_answer_before_its_sync_is_found(what: str, calls: list[str], kept: bool) -> None:
    found = requests("\n".join([POST.format(what=what), *calls, ANSWER]))
    assert [(one.path, one.status, is_kept(one)) for one in found] == [(f"/builds/1/{what}", "303", kept)]
