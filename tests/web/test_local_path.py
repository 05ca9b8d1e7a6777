"""Where a form may lead back to."""

import pytest

from webapp.web.local_path import local_path


@pytest.mark.parametrize("text", ["/", "/shop", "/builds/3?page=2#a", "/search?q=a%20b&x=//y"])
def test_a_path_of_this_server_is_kept(text: str) -> None:
    assert local_path(text) == text


@pytest.mark.parametrize(
    "text",
    [None, "", "shop", "//evil", "///evil", "https://evil/", "/\\evil", "\\/evil", "/\t/evil", "/\n/evil", "/ /evil",
     "\t//evil", "javascript:alert(1)", "/é", "/\x7f/evil", "http:/evil"],
)  # fmt: skip
def test_anything_else_is_not(text: str | None) -> None:
    assert local_path(text, "/home") == "/home"
