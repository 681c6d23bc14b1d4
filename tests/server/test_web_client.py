"""The client's files: what is kept for ever, what is asked for again, what is compressed."""

import gzip
import re
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from easelside.web.client import serve_client
from easelside.web.docs import PAGE, serve_docs

ROOT = Path(__file__).parents[2]


@pytest.fixture
def browser(tmp_path: Path) -> FlaskClient:
    (tmp_path / "assets").mkdir()
    (tmp_path / "docs").mkdir()
    (tmp_path / "index.html").write_text("<!doctype html><title>the client</title>" + " " * 500)
    (tmp_path / "sw.js").write_text("self.oninstall = () => {};" * 50)
    (tmp_path / "manifest.webmanifest").write_text('{"name": "Easelside"}' + " " * 200)
    (tmp_path / "assets" / "main-0a1b2c.js").write_text("export const words = 'soak';" * 100)
    (tmp_path / "assets" / "andika-0a1b2c.woff2").write_bytes(bytes(range(256)))
    (tmp_path / "docs" / "swagger-ui.css").write_text("body {}")
    (tmp_path / "docs" / "swagger-ui-bundle.js").write_text("const SwaggerUIBundle = () => {};")
    app = Flask("client", static_folder=None)
    serve_docs(app, tmp_path)
    serve_client(app, tmp_path)
    return app.test_client()


@pytest.mark.parametrize("path", ["/assets/main-0a1b2c.js", "/assets/andika-0a1b2c.woff2"])
def test_a_file_with_its_hash_in_its_name_is_kept_for_ever(browser: FlaskClient, path: str) -> None:
    assert "immutable" in browser.get(path).headers["Cache-Control"]


@pytest.mark.parametrize("path", ["/", "/sw.js", "/manifest.webmanifest", "/index.html"])
def test_what_keeps_its_name_is_asked_for_each_time(browser: FlaskClient, path: str) -> None:
    first = browser.get(path)
    assert (first.status_code, first.headers["Cache-Control"]) == (200, "no-cache")
    again = browser.get(path, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_scripts_travel_compressed_where_the_browser_takes_it(browser: FlaskClient) -> None:
    path = "/assets/main-0a1b2c.js"
    plain, zipped = browser.get(path), browser.get(path, headers={"Accept-Encoding": "gzip, br"})
    assert "Content-Encoding" not in plain.headers
    assert zipped.headers["Content-Encoding"] == "gzip"
    assert zipped.headers["Vary"] == "Accept-Encoding"
    assert gzip.decompress(zipped.data) == plain.data
    assert zipped.headers["ETag"] != plain.headers["ETag"]


def test_a_font_is_compressed_already(browser: FlaskClient) -> None:
    answer = browser.get("/assets/andika-0a1b2c.woff2", headers={"Accept-Encoding": "gzip"})
    assert ("Content-Encoding" in answer.headers, answer.content_type) == (False, "font/woff2")


def test_scripts_have_the_type_that_browsers_insist_on(browser: FlaskClient) -> None:
    assert browser.get("/sw.js").content_type == "text/javascript; charset=utf-8"
    assert browser.get("/manifest.webmanifest").content_type == "application/manifest+json"


@pytest.mark.parametrize("path", ["/assets/main-gone.js", "/screens", "/docs/swagger-ui.css", "/.stamp"])
def test_an_asset_that_is_gone_is_never_answered_with_the_page(browser: FlaskClient, path: str) -> None:
    answer = browser.get(path)
    assert answer.status_code == 404
    assert b"the client" not in answer.data


def test_without_a_built_client_the_start_says_how_to_get_one(tmp_path: Path) -> None:
    app = Flask("client", static_folder=None)
    serve_client(app, tmp_path / "nothing")
    answer = app.test_client().get("/")
    assert (answer.status_code, answer.json["code"]) == (503, "client_not_built")


def test_the_page_about_the_interface_names_nothing_outside_this_server(browser: FlaskClient) -> None:
    page = browser.get("/api/docs").text
    named = re.findall(r'(?:src|href)="([^"]+)"', page)
    assert "/api/docs/swagger-ui-bundle.js" in named
    assert re.findall(r"(?:https?:)?//\w", page + (PAGE / "start.js").read_text()) == []
    for path in named:
        if path.startswith("/api/docs/"):
            assert browser.get(path).status_code == 200, path
    assert "<script>" not in page


def test_the_page_about_the_interface_keeps_its_own_policy(browser: FlaskClient) -> None:
    assert "script-src 'self';" in browser.get("/api/docs").headers["Content-Security-Policy"]


def test_the_builds_files_for_that_page_are_where_it_looks(tmp_path: Path) -> None:
    """As the build puts them there; the packages of the client are installed before the tests run."""
    import importlib.util

    found = importlib.util.spec_from_file_location("hatch_build", ROOT / "server" / "hatch_build.py")
    assert found is not None and found.loader is not None
    build = importlib.util.module_from_spec(found)
    found.loader.exec_module(build)
    build.copy_docs(ROOT / "webclient", tmp_path)
    app = Flask("client", static_folder=None)
    serve_docs(app, tmp_path)
    bundle = app.test_client().get("/api/docs/swagger-ui-bundle.js", headers={"Accept-Encoding": "gzip"})
    assert b"SwaggerUIBundle" in gzip.decompress(bundle.data)
    assert app.test_client().get("/api/docs/swagger-ui.css").status_code == 200
