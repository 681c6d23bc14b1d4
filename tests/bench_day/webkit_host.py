"""A window with WebKit in it and nothing else, told what to do by lines of JSON. Runs under Debian's Python.

    python3 webkit_host.py DATA_FOLDER WIDTH HEIGHT LANGUAGE
    {"do": "open", "url": ..., "first": script that runs before the page's own}
    {"do": "run", "body": the body of an async function}
Each line is answered by one: {"is": value} or {"problem": text}.
"""

import json
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import GLib, Gtk, WebKit2  # noqa: E402

folder, width, height, language = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), sys.argv[4]
kept = WebKit2.WebsiteDataManager(
    base_data_directory=f"{folder}/data", base_cache_directory=f"{folder}/cache"
)
context = WebKit2.WebContext.new_with_website_data_manager(kept)
context.set_preferred_languages([language])
scripts = WebKit2.UserContentManager()
view = WebKit2.WebView(web_context=context, user_content_manager=scripts)
window = Gtk.Window()
window.set_default_size(width, height)
window.add(view)
window.show_all()
is_opening = False


def answer(**said: object) -> None:
    print(json.dumps(said), flush=True)


def loaded(_view: object, event: WebKit2.LoadEvent) -> None:
    global is_opening
    if is_opening and event == WebKit2.LoadEvent.FINISHED:
        is_opening = False
        answer(**{"is": None})


def failed(_view: object, _event: object, _url: object, problem: GLib.Error) -> bool:
    global is_opening
    if is_opening:
        is_opening = False
        answer(problem=problem.message)
    return False


def ran(_view: object, result: object) -> None:
    try:
        value = view.call_async_javascript_function_finish(result)
        answer(**{"is": json.loads(value.to_string()) if value.is_string() else None})
    except GLib.Error as problem:
        answer(problem=problem.message)


def told(source: GLib.IOChannel, _condition: object) -> bool:
    global is_opening
    line = source.readline()
    if not line:
        Gtk.main_quit()
        return False
    order = json.loads(line)
    if order["do"] == "open":
        scripts.remove_all_scripts()
        if order.get("first"):
            top, start = WebKit2.UserContentInjectedFrames.TOP_FRAME, WebKit2.UserScriptInjectionTime.START
            scripts.add_script(WebKit2.UserScript(order["first"], top, start, None, None))
        is_opening = True
        view.load_uri(order["url"])
    else:
        body = f"const is = await (async () => {{ {order['body']} }})(); return JSON.stringify(is ?? null);"
        view.call_async_javascript_function(body, -1, None, None, None, None, ran)
    return True


view.connect("load-changed", loaded)
view.connect("load-failed", failed)
GLib.io_add_watch(
    GLib.IOChannel.unix_new(0), GLib.PRIORITY_DEFAULT, GLib.IOCondition.IN | GLib.IOCondition.HUP, told
)
Gtk.main()
