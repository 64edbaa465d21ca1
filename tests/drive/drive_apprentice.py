#!/usr/bin/python3
"""A first rebuild: an apprentice is asked before the trap is shown, takes the wrong picture, meets a hold, and a trainer releases it by PIN."""
import csv
import json
import os
import time

from scenes import main

SHEET = "procedures/bp2-bilge-pump"
UNIT = "BP-2 bilge pump"
SEAL_IN = "Drive the lip seal into the pump end of the housing."
BEARINGS_ON = "Press both bearings on to the shaft by their inner rings."
SAYS = "The open side, with lip and garter spring, looks at the water."
APPRENTICE, TRAINER, PIN = "Jenna Tregear", "Ossie Carne", "4071"


def prepare(stage):
    """a bench sheet brings the job as far as its first hold, and it asks first"""
    with open(os.path.join(stage.data_dir, SHEET + ".answers.csv"), encoding="utf-8", newline="") as sheet:
        rows = list(csv.reader(sheet))
    opening = next(row for row in rows if row[1:3] == ["job", "shop"])
    first_of_seal = next(n for n, row in enumerate(rows) if row[1] == "lip-in")
    begun = stage.desk.path("begun.csv")
    with open(begun, "w", encoding="utf-8", newline="") as sheet:
        csv.writer(sheet).writerows([rows[0], opening[:2] + ["ask-first", "yes"] + opening[4:], *rows[1:first_of_seal]])
    stage.run("work", os.path.join(stage.data_dir, SHEET + ".xml"), "--answers", begun)
    stage.run("people", "add", TRAINER, "--role", "trainer")
    stage.run("people", "pin", TRAINER, typed=f"{PIN}\n{PIN}\n")
    stage.open()
    stage.desk.click("list item", f"*{UNIT}*")
    stage.at_step(SEAL_IN)


def guess_wrong(stage):
    """the wrong picture is taken, and the rule's own words say how to tell"""
    # Which one is wrong is told nowhere, and another one in each job: a right guess is taken back, and then it is put anew.
    for _ in range(40):
        assert stage.desk.find("label", SAYS) is None, "what is asked was told"
        stage.desk.key("Page_Down")  # to the first open question
        time.sleep(0.5)  # a digit close behind another key might come from a gauge, and is no choice
        stage.desk.key("1")
        stage.desk.wait("label", SAYS)
        if stage.desk.find("label", "*That was the wrong picture. How to tell: Spring in sight on one side only.") is not None:
            break
        stage.desk.wait("label", "*That was the right picture.*")
        stage.desk.key("ctrl+z")
        stage.desk.wait("label", "Which of the two is right?*")
    else:
        raise AssertionError("never the wrong picture in 40 tries")
    stage.desk.picture("1-wrong.png")


def answer(stage):
    """it blocks nothing: the fit is confirmed, the depth measured, and the step ends at its hold"""
    stage.desk.click("button", "Right: *")
    stage.desk.type("2.04")
    stage.desk.key("Return")
    stage.desk.wait("label", "*In")
    stage.desk.key("Page_Down")
    stage.desk.click("button", "Release by name…")


def refuse_own(stage):
    """who did the step can't release it"""
    stage.desk.fill("Name of who looked", APPRENTICE)
    stage.desk.key("Return")
    stage.desk.wait("label", f"{APPRENTICE} did step 30, so somebody else looks and releases its hold*")
    stage.desk.picture("2-refused.png")


def release(stage):
    """the trainer can, and by the right PIN alone"""
    stage.desk.fill("Name of who looked", TRAINER)
    stage.desk.key("Return")
    for pin, answer in ((PIN[::-1], "*not the PIN of " + TRAINER + "*"), (PIN, BEARINGS_ON)):
        stage.desk.until("a box for the PIN", lambda: any("focused" in box.states for box in stage.desk.find_all(name=f"*PIN*{TRAINER}*")))
        stage.desk.type(pin)
        stage.desk.key("Return")
        stage.desk.wait("label", answer)
    stage.desk.picture("3-released.png")


def keep(stage):
    """the record has the wrong guess and the release by PIN, and the bench goes on"""
    stage.desk.close()
    job, = stage.list_jobs()
    entries = json.loads(stage.run("export", job["job"], "--as", "json"))["entries"]
    guesses = [entry for entry in entries if entry["kind"] == "guessed" and not entry["taken-back"]]
    assert [(guess["person"], guess["fields"]["choice"]) for guess in guesses] == [(APPRENTICE, "wrong")], guesses
    releases = [(entry["person"], entry["fields"]["role"], entry["fields"]["by-pin"]) for entry in entries if entry["kind"] == "released"]
    assert releases == [(TRAINER, "trainer", "yes")], releases
    stage.run("verify")


if __name__ == "__main__":
    main([prepare, guess_wrong, answer, refuse_own, release, keep])
