#!/usr/bin/python3
"""What is read from a browser's trace, tried on small traces, so that it needs no browser."""
import unittest

import devtools

PAGE, OTHER = 10, 20


def mark(name, msec, since_navigation=0, process=PAGE):
    return {"name": name, "ph": "I", "pid": process, "ts": msec * 1000, "cat": "blink.user_timing",
            "args": {"data": {"startTime": since_navigation}}}


def frame(number, begin, work=None, shown=None, end=None, process=PAGE):
    """Events of one frame, msec."""
    def event(name, phase, at):
        return {"name": name, "ph": phase, "pid": process, "ts": at * 1000, "cat": "cc", "id2": {"local": number}}
    events = [event("PipelineReporter", "b", begin)]
    if work is not None:
        events += [event("SendBeginMainFrameToCommit", "b", work), event("SendBeginMainFrameToCommit", "e", work + 1)]
    if shown is not None:
        events += [event("SwapEndToPresentationCompositorFrame", "b", shown - 1), event("SwapEndToPresentationCompositorFrame", "e", shown)]
    return events + [event("PipelineReporter", "e", shown if shown is not None else end)]


class TraceTest(unittest.TestCase):
    def test_frame_of_a_change(self):
        trace = devtools.Trace([mark("pawl-page", 1000, 400), mark("change", 1100),
                                *frame("0x1", 1090, 1095, 1110),    # begun before the change
                                *frame("0x2", 1104, None, 1120),    # made by the compositor alone
                                *frame("0x1", 1112, 1113, 1130)])   # the number is used again
        found = trace.find_frame("change", 0.2)
        self.assertAlmostEqual(found.work_begin, 1.113)
        self.assertAlmostEqual(found.presented, 1.130)
        self.assertAlmostEqual(trace.navigation, 0.6)
        self.assertAlmostEqual(trace.find_last_frame().presented, 1.130)

    def test_no_frame_in_time(self):
        trace = devtools.Trace([mark("pawl-page", 0), mark("change", 100), *frame("0x1", 390, 400, 420)])
        self.assertIsNone(trace.find_frame("change", 0.25))

    def test_dropped_frames_do_not_count(self):
        trace = devtools.Trace([mark("pawl-page", 0), mark("change", 100), *frame("0x1", 104, 105, end=120), *frame("0x2", 121, 122, 130)])
        self.assertAlmostEqual(trace.find_frame("change", 0.25).presented, 0.130)

    def test_frames_of_another_process_do_not_count(self):
        trace = devtools.Trace([mark("pawl-page", 0), mark("change", 100), *frame("0x1", 104, 105, 110, process=OTHER)])
        self.assertEqual(trace.frames, [])
        self.assertRaises(devtools.BrowserError, trace.find_last_frame)

    def test_presented_between_marks(self):
        trace = devtools.Trace([mark("pawl-page", 0), mark("begin", 100), mark("end", 150), *frame("0x1", 90, 91, 99),
                                *frame("0x2", 110, 111, 120), *frame("0x3", 112, None, 120), *frame("0x4", 130, 131, 140), *frame("0x5", 150, 151, 160)])
        self.assertEqual([round(at, 3) for at in trace.list_presented("begin", "end")], [0.120, 0.140])

    def test_needs_a_page(self):
        self.assertRaises(devtools.BrowserError, devtools.Trace, frame("0x1", 1, 2, 3))


if __name__ == "__main__":
    unittest.main()
