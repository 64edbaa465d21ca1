#!/usr/bin/python3
"""The program is killed in the middle of a job, again and again: what the window had acknowledged is there when it comes back."""
import os

from scenes import main

PROCEDURE = "Overhaul of the CV-2 check valve"
UNIT = "CV-2 check valve"
CAP_OFF = "Unscrew the cap, holding it down against the spring."
INSIDES_OUT = "Lift out the spring, then the ball."


def come_back(stage, command):
    stage.desk.kill()
    stage.open()
    stage.desk.click("list item", UNIT)
    stage.at_step(command)


def read_drafts(stage):
    drafts = []
    for folder, _, names in os.walk(stage.desk.path("state")):
        for name in names:
            with open(os.path.join(folder, name), encoding="utf-8") as draft:
                drafts.append(draft.read())
    return drafts


def after_opening(stage):
    """a job that was just begun is there after the power went"""
    stage.open()
    stage.begin(PROCEDURE, Who_is_at_the_bench="Jenna Tregear", Serial_number="CV 42")
    stage.at_step(CAP_OFF)
    come_back(stage, CAP_OFF)


def after_note(stage):
    """so is a note, as soon as it was shown"""
    stage.desk.fill("Write down: Match mark", "one dot at the outlet")
    stage.desk.key("Return")
    stage.desk.wait("label", "*one dot at the outlet*")
    come_back(stage, CAP_OFF)
    stage.desk.wait("label", "*one dot at the outlet*")


def after_step(stage):
    """so is a finished step"""
    stage.advance_to(INSIDES_OUT)
    come_back(stage, INSIDES_OUT)


def after_readings(stage):
    """so are a wrong reading and its correction, and what was typed and not taken is typed still, and not taken"""
    stage.desk.fill("Reading: Spring free length", "26.1")
    stage.desk.key("Return")
    stage.desk.wait("label", "*Out*")
    stage.desk.fill("Reading: Spring free length", "24.9")
    stage.desk.until("draft on disk", lambda: any("24.9" in draft for draft in read_drafts(stage)))
    come_back(stage, INSIDES_OUT)
    stage.desk.wait("label", "*Out*")
    box = stage.desk.wait("text box", "Reading: Spring free length")
    assert stage.desk.bus.text(box) == "24.9"
    assert stage.desk.find("label", "*24.9*In*") is None
    stage.desk.fill("Reading: Spring free length", "25.02")
    stage.desk.key("Return")
    stage.desk.wait("label", "*26.1*Out*")
    come_back(stage, INSIDES_OUT)
    stage.desk.wait("label", "*26.1*Out*")


def after_undo(stage):
    """so is an undo"""
    stage.desk.key("ctrl+z")
    stage.desk.wait("label", "*Out*")
    come_back(stage, INSIDES_OUT)
    stage.desk.wait("label", "*Out*")


def verify(stage):
    """and the record verifies"""
    stage.desk.kill()
    assert len(stage.list_jobs()) == 1
    stage.run("verify")


if __name__ == "__main__":
    main([after_opening, after_note, after_step, after_readings, after_undo, verify])
