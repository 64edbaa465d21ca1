#!/usr/bin/python3
"""A whole small rebuild through the window, by pointer and keys: from the list of procedures to the report as a file."""
import re
import subprocess

from scenes import main

PROCEDURE = "Overhaul of the CV-2 check valve"
CAP_OFF = "Unscrew the cap, holding it down against the spring."
INSIDES_OUT = "Lift out the spring, then the ball."
BALL_IN = "Drop the ball onto its seat."
SPRING_IN = "Set the spring on the ball."
CAP_ON = "Screw the cap down to its mark."


def begin(stage):
    """a job begins from the list of procedures"""
    stage.open()
    stage.desk.picture("1-start.png")
    stage.begin(PROCEDURE, Who_is_at_the_bench="Jenna Tregear", Serial_number="CV 41", Work_order="TS-7", Customer="Kittiwake (invented)")
    stage.at_step(CAP_OFF)
    stage.desk.wait("group", "CAUTION")


def steer(stage):
    """the figure comes closer by the wheel, goes along with a drag, and back on Home"""
    desk = stage.desk

    def place():
        return desk.bus.place(desk.find_all("list item", "3 Spring")[0])

    desk.until("part on the sheet", lambda: desk.find_all("list item", "3 Spring") and place()[3] > 1)
    desk.settle()
    at_first = place()
    figure = desk.find_all("list", "Figure")[0]
    left, top, width, height = desk.bus.place(figure)
    desk.screen.point(*desk.to_screen(figure, (left + width / 2, top + height / 2)))  # GTK says that nothing is shown there
    desk.settle()
    desk.screen.press_button(4)
    desk.until("part that is larger", lambda: place()[3] > 1.1 * at_first[3])
    desk.settle()
    closer = place()
    desk.screen.drag(64, -40)
    desk.until("part that was dragged along",
               lambda: abs(place()[0] - closer[0] - 64) <= 1 and abs(place()[1] - closer[1] + 40) <= 1)
    desk.key("Home")
    desk.until("part where it was at first", lambda: place() == at_first)


def refuse(stage):
    """a step with an open question is not finished, and the window says what is missing"""
    stage.desk.key("Page_Down")
    stage.desk.wait("label", "*Match mark*")
    stage.at_step(CAP_OFF)


def note(stage):
    """a match mark is written down, and the advance key goes on"""
    stage.desk.fill("Write down: Match mark", "two dots at the inlet")
    stage.desk.click("button", "Keep: Match mark")
    stage.desk.wait("label", "*two dots at the inlet*")
    stage.advance_to(INSIDES_OUT)


def correct(stage):
    """a reading out of limits is said to be out, stays listed, and is corrected"""
    stage.desk.type("26.1")  # digits typed anywhere go to the reading
    stage.desk.key("Return")
    stage.desk.wait("label", "*Out*")
    stage.desk.picture("2-out.png")
    stage.desk.key("Page_Down")
    stage.at_step(INSIDES_OUT)
    stage.desk.fill("Reading: Spring free length", "25.02 mm")
    stage.desk.key("Return")
    stage.desk.wait("label", "*In*")
    stage.desk.wait("label", "*26.1*Out*")


def undo(stage):
    """undo takes the last answer back, and it is asked again"""
    stage.desk.click("button", "Bad: Ball surface")
    stage.desk.wait("label", "*Bad*")
    stage.desk.key("ctrl+z")
    stage.desk.wait_gone("label", "✗ Bad")
    stage.desk.click("button", "Good: Ball surface")
    stage.desk.wait("label", "*Good*")
    stage.advance_to(BALL_IN)


def deviate(stage):
    """what was done differently is recorded with its reason"""
    stage.desk.click("button", "I did it differently…")
    stage.desk.fill("What was done instead", "Ball lapped to its seat first")
    stage.desk.fill("Reason", "A ring on the seat")
    stage.desk.fill("Accepted by", "Petroc Lanyon")
    stage.desk.click("button", "Record this deviation")
    stage.desk.wait("label", "*deviation is recorded*")


def reopen(stage):
    """the window is closed, though the report is still being laid out; opened again, the work goes on where it stopped"""
    stage.desk.click("tab", "Report")
    stage.desk.close()
    stage.open()
    stage.desk.wait("list item", "CV-2 check valve")
    stage.desk.picture("3-jobs.png")
    stage.desk.click("list item", "CV-2 check valve")
    stage.at_step(BALL_IN)


def build_up(stage):
    """the unit is put together past its traps"""
    stage.desk.click("button", "Free: Ball rolls freely")
    stage.advance_to(SPRING_IN)
    stage.desk.click("button", "Wrong way round found: Spring end*")
    stage.desk.wait("label", "*Wrong way round found*")
    stage.desk.click("button", "Right: Spring end*")
    stage.advance_to(CAP_ON)
    stage.desk.key("Page_Down")  # once, to say that the spring can't be seen afterwards
    stage.desk.wait("label", "A photo first*")
    stage.desk.key("F3")
    stage.desk.wait("label", "On without a photo*")
    stage.desk.click("button", "Right: Cap mark*")
    stage.desk.click("button", "Holds: Valve holds")
    stage.desk.key("Page_Down")
    stage.desk.wait("button", "All steps seen")
    stage.desk.picture("4-built.png")


def look_round(stage):
    """parts and readings say what was done"""
    stage.desk.click("tab", "Parts")
    stage.desk.wait("list item", "3  Spring")
    stage.desk.click("tab", "Readings")
    stage.desk.wait("list item", "Spring free length")


def report(stage):
    """the job is signed, and its report is saved as a PDF that has the answers in it"""
    path = stage.desk.path("home/report.pdf")
    stage.desk.click("tab", "Report")
    stage.desk.wait("image", "Page 1 of *")
    stage.desk.click("button", "Sign off…")
    stage.desk.fill("Name", "Jenna Tregear")
    stage.desk.fill("Role", "fitter")
    stage.desk.click("button", "Sign")
    stage.desk.wait("button", "Signed by Jenna Tregear")
    stage.desk.wait("image", "Page 1 of *")
    stage.desk.picture("5-report.png")
    stage.desk.click("button", "Save as PDF…")
    stage.desk.until("a dialog", lambda: len(stage.desk.screen.windows()) == 2)
    stage.desk.settle()
    stage.desk.key("ctrl+a")
    stage.desk.type(path)
    stage.desk.key("Return")
    stage.desk.wait("label", "The report is saved.")
    facts = subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True).stdout
    assert int(facts.split("Pages:")[1].split()[0]) >= 1, facts
    text = subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True, text=True).stdout
    for words in ("CV 41", "26.1", "25.02", "24.5..25.5 mm", "Ball lapped to its seat first", "Petroc Lanyon"):
        assert words in " ".join(text.split()), f"{words!r} is not in the report:\n{text}"


def print_pages(stage):
    """the desktop's print dialog takes a range of pages, and puts them into a file that is called like the report"""
    stage.desk.key("ctrl+p")
    stage.desk.wait("dialog", "Print")
    stage.desk.click("label", "Print to File")
    stage.desk.wait("button", "*CV-2 check valve.pdf")
    stage.desk.click("label", "Pages:")
    stage.desk.type("2-3")
    stage.desk.picture("6-print.png")
    stage.desk.key("Return")
    stage.desk.wait("label", "The pages are handed to the printer.")
    path = stage.desk.path("home/Record of work CV-2 check valve.pdf")
    text = subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True, text=True).stdout
    assert re.findall(r"Page (\d) of", text) == ["2", "3"], text


def verify(stage):
    """the record of it all verifies"""
    stage.desk.close()
    assert len(stage.list_jobs()) == 1
    stage.run("verify")


if __name__ == "__main__":
    main([begin, steer, refuse, note, correct, undo, deviate, reopen, build_up, look_round, report, print_pages, verify])
