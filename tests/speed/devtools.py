"""Drives a headless Chromium over its debugging pipe, and reads from its trace when frames were presented."""
import collections
import json
import os
import shutil
import subprocess
import tempfile

# No network, no profile of anybody's; software drawing, as the window's cairo renderer is.
OPTIONS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
           "--disable-component-update", "--disable-sync", "--hide-scrollbars", "--remote-debugging-pipe"]
READ_END, WRITE_END = 3, 4  # where the browser looks for the pipe
# Frames and performance.mark(), and nothing else: tracing must not slow down what is traced.
CATEGORIES = ["disabled-by-default-devtools.timeline.frame", "blink.user_timing"]

# Times in seconds on the trace's clock. work_begin: when the page was told to make the frame, None when the compositor made it alone.
Frame = collections.namedtuple("Frame", "begin work_begin presented")


class BrowserError(Exception):
    pass


class Browser:
    """One browser with one blank page. Use in a with statement."""

    def __init__(self, program="chromium"):
        self.profile = tempfile.mkdtemp(prefix="pawl-browser-")
        commands_out, self.commands = os.pipe()
        self.answers, answers_in = os.pipe()

        def place_pipe():
            spare = [os.dup(commands_out), os.dup(answers_in)]  # 3 or 4 may be one of ours
            os.dup2(spare[0], READ_END)
            os.dup2(spare[1], WRITE_END)

        self.process = subprocess.Popen([program, *OPTIONS, f"--user-data-dir={self.profile}", "about:blank"], preexec_fn=place_pipe,
                                        close_fds=False, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(commands_out)
        os.close(answers_in)
        self.unread, self.events, self.last_id, self.session = b"", [], 0, None

    def __enter__(self):
        return self

    def __exit__(self, *unused):
        try:
            self.call("Browser.close", in_page=False)
        except (BrowserError, OSError):
            pass  # gone already
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        os.close(self.commands)
        os.close(self.answers)
        shutil.rmtree(self.profile, ignore_errors=True)

    def open_page(self, width, height):
        targets = self.call("Target.getTargets", in_page=False)["targetInfos"]
        page = next(target["targetId"] for target in targets if target["type"] == "page")
        self.session = self.call("Target.attachToTarget", in_page=False, targetId=page, flatten=True)["sessionId"]
        self.call("Page.enable")
        # The window's own bars take room, too. (A page that only claims another size than it has is not always drawn.)
        window = self.call("Browser.getWindowForTarget", in_page=False, targetId=page)
        bars_width, bars_height = (window["bounds"][name] - self.run(script)
                                   for name, script in (("width", "innerWidth"), ("height", "innerHeight")))
        self.call("Browser.setWindowBounds", in_page=False, windowId=window["windowId"],
                  bounds={"width": width + bars_width, "height": height + bars_height})

    def _receive(self):
        while b"\0" not in self.unread:
            data = os.read(self.answers, 1 << 20)
            if not data:
                raise BrowserError("the browser ended unasked")
            self.unread += data
        message, _, self.unread = self.unread.partition(b"\0")
        return json.loads(message)

    def call(self, method, in_page=True, **parameters):
        """The answer to one command. Events that come meanwhile are kept for wait()."""
        self.last_id += 1
        message = {"id": self.last_id, "method": method, "params": parameters}
        if in_page:
            message["sessionId"] = self.session
        os.write(self.commands, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._receive()
            if answer.get("id") == self.last_id:
                if "error" in answer:
                    raise BrowserError(f"{method}: {answer['error']['message']}")
                return answer["result"]
            self.events.append(answer)

    def wait(self, method):
        """Every event kept so far, up to and with the next of that name."""
        seen = []
        while True:
            event = self.events.pop(0) if self.events else self._receive()
            seen.append(event)
            if event.get("method") == method:
                return seen

    def run(self, script):
        """The value of a script in the page; of a promise, when it is kept."""
        answer = self.call("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
        if "exceptionDetails" in answer:
            raise BrowserError(answer["exceptionDetails"].get("exception", {}).get("description", "script failed"))
        return answer["result"].get("value")

    def trace(self, action):
        """What was traced while action() ran."""
        self.call("Tracing.start", in_page=False, transferMode="ReportEvents",
                  traceConfig={"includedCategories": CATEGORIES, "recordMode": "recordUntilFull"})
        action()
        self.events.clear()
        self.call("Tracing.end", in_page=False)
        chunks = self.wait("Tracing.tracingComplete")
        return Trace([item for chunk in chunks if chunk.get("method") == "Tracing.dataCollected" for item in chunk["params"]["value"]])

    def read_memory(self):
        """Bytes of all its processes, shared pages counted once (PSS of Linux)."""
        total, family = 0, {self.process.pid}
        for entry in sorted((int(name) for name in os.listdir("/proc") if name.isdigit())):
            try:
                with open(f"/proc/{entry}/stat", encoding="utf-8", errors="replace") as file:
                    parent = int(file.read().rpartition(")")[2].split()[1])
                if entry in family or parent in family:
                    family.add(entry)
                    with open(f"/proc/{entry}/smaps_rollup", encoding="utf-8") as file:
                        total += next(int(line.split()[1]) * 1024 for line in file if line.startswith("Pss:"))
            except (OSError, StopIteration):
                continue  # gone meanwhile
        return total


class Trace:
    """frames: of the page, those that reached the screen, in order. marks: seconds by name of performance.mark(), of which the first
    must be called pawl-page: it tells which process is the page's. navigation: when the page was asked for."""

    def __init__(self, events):
        events = sorted((event for event in events if "ts" in event), key=lambda event: event["ts"])
        first = next((event for event in events if event["name"] == "pawl-page"), None)
        if first is None:
            raise BrowserError("the trace has no mark of the page")
        page = first["pid"]
        self.marks = {event["name"]: event["ts"] / 1e6 for event in events if event["pid"] == page and "blink.user_timing" in event["cat"]}
        self.navigation = first["ts"] / 1e6 - first["args"]["data"]["startTime"] / 1e3
        self.frames, open_frames = [], {}
        for event in events:
            if event["pid"] == page and event["ph"] in "be" and "id2" in event:
                self._read(event, event["id2"].get("local"), open_frames)
        self.frames.sort(key=lambda frame: frame.presented)

    def _read(self, event, number, open_frames):
        """A frame is a PipelineReporter, and its stages are nested in it under the same number, which is used again later."""
        name, at = event["name"], event["ts"] / 1e6
        if name == "PipelineReporter" and event["ph"] == "b":
            open_frames[number] = {"begin": at, "work_begin": None, "presented": None}
        elif number not in open_frames:
            return
        elif name == "SendBeginMainFrameToCommit" and event["ph"] == "b":
            open_frames[number]["work_begin"] = at
        elif name == "SwapEndToPresentationCompositorFrame" and event["ph"] == "e":
            open_frames[number]["presented"] = at
        elif name == "PipelineReporter":
            frame = open_frames.pop(number)
            if frame["presented"] is not None:
                self.frames.append(Frame(**frame))

    def find_frame(self, mark, within):
        """The first frame shown that the page began after the mark, the one that shows what was changed there; None when nothing
        that can be seen had changed, and so no frame was made in that many seconds."""
        begin = self.marks[mark]
        return next((frame for frame in self.frames if frame.work_begin is not None and begin <= frame.work_begin < begin + within), None)

    def find_last_frame(self):
        """The last one that the page made."""
        found = [frame for frame in self.frames if frame.work_begin is not None]
        if not found:
            raise BrowserError("the page was never shown")
        return found[-1]

    def list_presented(self, first, last):
        """When frames reached the screen between two marks."""
        return sorted({frame.presented for frame in self.frames if self.marks[first] <= frame.presented <= self.marks[last]})
