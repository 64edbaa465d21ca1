"""A drive told in scenes: each is a function of the stage, run in order and reported as TAP. The first that fails ends the drive."""
import json
import os
import subprocess
import sys
import traceback

from drive import Desk, Missed


class Stage:
    """The program on a desk, with a data folder and a record of its own."""

    def __init__(self, desk, program, data_dir):
        self.desk, self.program, self.data_dir = desk, program, data_dir
        self.record = desk.path("record.db")

    def open(self):
        self.desk.start([self.program, "--data", self.data_dir, "--record", self.record])

    def run(self, command, *arguments, typed=""):
        """A command of the program on the same record, with what is typed into it: what it printed to stdout. It must end with status 0."""
        result = subprocess.run([self.program, command, "--record", self.record, *arguments], env=self.desk.environment, check=False,
                                capture_output=True, text=True, input=typed)
        if result.returncode != 0:
            raise Missed(f"pawl {command} ended with status {result.returncode}: {result.stdout}{result.stderr}")
        return result.stdout

    def list_jobs(self):
        return json.loads(self.run("jobs", "--json"))

    # ---- what a fitter does over and over

    def begin(self, procedure, **fields):
        """From the list of procedures to the first step of a new job."""
        self.desk.click("tab", "Procedures")
        self.desk.click("list item", procedure)
        for name, text in fields.items():
            self.desk.fill(name.replace("_", " "), text)
        self.desk.click("button", "Begin a job")

    def at_step(self, command):
        """Waits for the step with this command, and looks whether its page can be read."""
        self.desk.wait("label", command)
        overlaps = self.desk.find_overlaps()
        if overlaps:
            raise Missed(f"at \"{command}\" one text is drawn over another: {overlaps}")

    def advance_to(self, command):
        """The advance key, from wherever the hands are, until the step with this command is shown."""
        self.desk.key("Page_Down")
        self.at_step(command)


def play(scenes, program, data_dir, out_dir):
    print(f"1..{len(scenes)}", flush=True)
    number = 1
    try:
        with Desk(out_dir) as desk:
            stage = Stage(desk, program, data_dir)
            for number, scene in enumerate(scenes, 1):
                scene(stage)
                print(f"ok {number} - {scene.__doc__}", flush=True)
    except Exception:  # whatever went wrong is what the log must tell
        print("".join("# " + line + "\n" for line in traceback.format_exc().splitlines()), end="")
        print(f"not ok {number} - {scenes[number - 1].__doc__}\nBail out!")
        return 1
    return 0


def main(scenes):
    """The command line of a drive: PROGRAM DATA-FOLDER OUT-FOLDER."""
    sys.exit(play(scenes, *(os.path.abspath(path) for path in sys.argv[1:4])))
