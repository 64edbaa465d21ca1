#!/usr/bin/python3
"""Measures Chromium on a figure: browser.py FIGURE.svg [--json].

The figure is put into a page as it is, and shown at the size that the window is measured at. Where a page can be written in more
than one way, each is tried and the best is reported, with its name. Times are of the work for one frame: from when the page is told
to make it until the browser says it is on the screen, without the wait for the next tick of the display.
"""
import argparse
import json
import os
import statistics
import sys
import tempfile

import devtools

WIDTH, HEIGHT = 1600, 1000
PAUSE_MSEC = 600  # after each change, until all is at rest again
CHANGES = 9
OPENINGS = 4
MOVE_MSEC = 1500

PAGE = """<!doctype html><meta charset="utf-8"><title>measuring</title>
<style>
  body {{ margin: 0; overflow: hidden; background: #fff }}
  body > svg {{ display: block; width: {width}px; height: {height}px; transform-origin: 0 0 }}
  .lit > * {{ stroke: #0b57a4; stroke-width: 2.5 }}
  .dim-by-opacity > g:not(.lit) {{ opacity: 0.35 }}
  .dim-by-ink > g:not(.lit) > * {{ fill-opacity: 0.35; stroke-opacity: 0.35 }}
</style>
{figure}
<script>
  performance.mark ("pawl-page");
  const drawing = document.querySelector ("body > svg"), parts = [...drawing.querySelectorAll (":scope > g")];
  const pause = (length) => new Promise ((done) => setTimeout (done, length));
  async function change (name, action) {{ performance.mark (name); action (); await pause ({pause}) }}
  /* Calls action with 0..1 before each frame for that long. */
  async function move (name, action) {{
    performance.mark (name + "-begin");
    const begin = performance.now ();
    for (let t = 0; t < 1;) {{
      const now = await new Promise (requestAnimationFrame);
      t = Math.min (Math.max ((now - begin) / {move}, 0), 1);
      action (t);
    }}
    performance.mark (name + "-end");
    await pause ({pause});
  }}
  /* Three parts from the middle of the pile, as far as they would go home. */
  const sliding = [0.3, 0.5, 0.7].map ((share) => parts[Math.floor (parts.length * share)]);
  const slide_by_attribute = (t) => sliding.forEach ((part) => part.setAttribute ("transform", `translate(${{120 * t}} ${{70 * t}})`));
  const slide_by_style = (t) => sliding.forEach ((part) => part.style.transform = `translate(${{120 * t}}px, ${{70 * t}}px)`);
  const zoom_by_box = (t) => drawing.setAttribute ("viewBox", `${{400 * t}} ${{250 * t}} ${{1600 - 800 * t}} ${{1000 - 500 * t}}`);
  const zoom_by_layer = (t) => drawing.style.transform = `scale(${{1 + t}}) translate(${{-400 * t}}px, ${{-250 * t}}px)`;
</script>
"""


def median_change(browser, changes):
    """Median of the work for one frame, msec, over changes: (script that changes, script that undoes)."""
    def act():
        browser.run('performance.mark ("pawl-page")')  # tells the trace which process is the page's
        for n, (script, undo) in enumerate(changes):
            browser.run(f'change ("change-{n}", () => {{ {script} }})')
            if undo:
                browser.run(f'change ("undo-{n}", () => {{ {undo} }})')
    trace = browser.trace(act)
    frames = [trace.find_frame(f"change-{n}", PAUSE_MSEC / 1000) for n in range(len(changes))]
    if frames.count(None) > len(changes) / 2:  # some parts may lie wholly under others
        raise devtools.BrowserError(f"{frames.count(None)} of {len(changes)} changes were not seen: {changes[0][0]}")
    return statistics.median((frame.presented - frame.work_begin) * 1000 for frame in frames if frame is not None)


def measure_move(browser, action):
    """Frames per second that reached the screen."""
    def act():
        browser.run('performance.mark ("pawl-page")')
        browser.run(f'move ("move", {action})')
    trace = browser.trace(act)
    shown = trace.list_presented("move-begin", "move-end")
    if len(shown) < 3:  # not even two intervals
        return 1000 * len(shown) / MOVE_MSEC
    return (len(shown) - 1) / (shown[-1] - shown[0])


def best(results, take=min):
    """The best value of several ways to write the page, and its name."""
    way = take(results, key=lambda name: results[name])
    return results[way], way


def measure_openings(browser, address):
    """From asking for the page to the first frame with all of the figure, msec, at each opening."""
    openings = []
    for _ in range(OPENINGS):
        def act():
            browser.call("Page.navigate", url=address)
            browser.wait("Page.loadEventFired")
            browser.run(f"pause ({2 * PAUSE_MSEC})")
        browser.call("Page.navigate", url="about:blank")
        browser.wait("Page.loadEventFired")
        trace = browser.trace(act)
        # The browser shows what it has while it still reads; nothing changes after that, so the last frame is the whole one.
        openings.append((trace.find_last_frame().presented - trace.navigation) * 1000)
    return openings


def measure_highlight(browser):
    browser.run("drawing.classList.remove ('dim-by-opacity', 'dim-by-ink')")
    changes = [(f"parts[Math.floor (parts.length * {(n + 0.5) / CHANGES})].classList.add ('lit')", "drawing.querySelectorAll ('.lit').forEach ((part) => part.classList.remove ('lit'))")
               for n in range(CHANGES)]
    return median_change(browser, changes)


def measure_dim(browser):
    return best({way: median_change(browser, [(f"parts[5].classList.add ('lit'), drawing.classList.add ('{way}')",
                                               f"parts[5].classList.remove ('lit'), drawing.classList.remove ('{way}')")] * 3)
                 for way in ("dim-by-opacity", "dim-by-ink")})


def measure_slide(browser):
    results = {"slide_by_attribute": measure_move(browser, "slide_by_attribute")}
    browser.run("slide_by_attribute (0)")
    results["slide_by_style"] = measure_move(browser, "slide_by_style")
    browser.run("change ('layers', () => sliding.forEach ((part) => part.style.willChange = 'transform'))")
    results["slide_by_style, will-change"] = measure_move(browser, "slide_by_style")
    browser.run("change ('no-layers', () => sliding.forEach ((part) => { part.style.willChange = 'auto'; part.style.transform = '' }))")
    return best(results, max)


def measure_zoom(browser):
    by_box = measure_move(browser, "zoom_by_box")
    browser.run("change ('whole', () => zoom_by_box (0))")
    browser.run("change ('layer', () => drawing.style.willChange = 'transform')")
    by_layer = measure_move(browser, "zoom_by_layer")
    sharpen = median_change(browser, [("drawing.style.willChange = 'auto'; drawing.style.transform = ''; zoom_by_box (1)",
                                       "drawing.style.willChange = 'transform'; zoom_by_box (0)")] * 3)
    return best({"viewBox": by_box, "scaled layer": by_layer}, max), by_box, sharpen


def measure(path):
    """Rows: (key, value, unit, how)."""
    with open(path, encoding="utf-8") as file:
        figure = file.read().partition("?>")[2]
    with tempfile.TemporaryDirectory(prefix="pawl-page-") as folder, devtools.Browser() as browser:
        page = os.path.join(folder, "page.html")
        with open(page, "w", encoding="utf-8") as file:
            file.write(PAGE.format(width=WIDTH, height=HEIGHT, figure=figure, pause=PAUSE_MSEC, move=MOVE_MSEC))
        browser.open_page(WIDTH, HEIGHT)
        openings = measure_openings(browser, "file://" + page)
        highlight = measure_highlight(browser)
        dim, dim_way = measure_dim(browser)
        slide, slide_way = measure_slide(browser)
        (zoom, zoom_way), zoom_box, sharpen = measure_zoom(browser)
        return [("first-opening", openings[0], "ms", "inline SVG"),
                ("second-opening", statistics.median(openings[1:]), "ms", "inline SVG"),
                ("highlight", highlight, "ms", "class on the group"),
                ("dim", dim, "ms", dim_way),
                ("slide-fps", slide, "fps", slide_way),
                ("zoom-fps", zoom, "fps", zoom_way),
                ("zoom-sharp-fps", zoom_box, "fps", "viewBox each frame"),
                ("sharp", sharpen, "ms", "viewBox, once"),
                ("memory", browser.read_memory() / 1024 / 1024, "MB", "all processes, shared pages once")]


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("figure")
    parser.add_argument("--json", action="store_true", help="rows as JSON")
    given = parser.parse_args()
    try:
        rows = measure(given.figure)
    except (OSError, devtools.BrowserError) as problem:
        print(f"browser.py: {problem}", file=sys.stderr)
        return 2
    if given.json:
        print(json.dumps([dict(zip(("key", "value", "unit", "how"), row)) for row in rows], indent=1))
    else:
        for key, value, unit, how in rows:
            print(f"{key:20} {value:10.1f} {unit:4} {how}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
