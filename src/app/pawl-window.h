/*
 * The window: bars for what needs saying, a start view (jobs, procedures, sums, instruments) and a job view (bench, run, readings, parts, report).
 *
 * Accessible names, for whoever drives it from outside (role: name). <ask>, <part> … stand for names from the procedure.
 *   always     button: "Menu", "Undo", "All jobs" (in a job); toggle button: "Who: <person>" (in a job)
 *              check menu items: "Bench size", "Dark"; menu items: "Full screen", "Where the work stopped", "Open a procedure file…", "Bench sums", "Instruments", "Keys", "About Pawl"
 *   start      tab: "Jobs", "Procedures", "Bench sums", "Instruments"; button: "Back to the job" when one stayed open
 *   Jobs       list: "Jobs"; list item: <unit>, its description "You were about to …", with button: "History of the readings: <title>"; button: "Choose a procedure" when there is no job
 *   Procedures button: "Open a file…"; list: "Procedures"; list item: <title>
 *   form       text: "Who is at the bench", "Serial number", "Work order", "Customer", "Complaint, in the customer’s words", "Authorised: what, by whom, up to how much"; combo box: "Variant";
 *              button: "All procedures", "Begin a job"
 *   Sums       list: "Bench sums"; list item: <sum>; once one is chosen text: <input>; group: "Answers"; label: "Working"; image: "What is measured where";
 *              button: "All sums", "Copy"
 *   Instruments button: "New instrument…"; list: "Instruments"; list item: <mark>, its description how it stands
 *              one of them  button: "It was calibrated…", "Change…", "Retire it…", "All instruments"; list: "What happened to it, newest first"
 *              form         text: "Mark engraved on it", "Kind, as procedures call it", …; combo box: "What ends a reading", "Its decimal mark";
 *                           button: "Let the gauge show how it types" (or "Listening…"), "Never mind", "Put it into the register", "Keep the change",
 *                           "Keep the calibration", "Retire it"
 *   job        tab: "Bench", "Run", "Readings", "Parts", "Report"
 *   Bench      list: "Figure", its items "<item number> <part name>", their descriptions say how each stands
 *              button: "Whole unit", "This step", "Zoom in", "Zoom out"; "Check the figure again" when it could not be tried, or took too much
 *              slider: "Through the whole job"; button: "Build the unit up" (or "Pause"), and once it is moved "See this step", "Back to the job"
 *              button: "Back, to look", "Done: next" (or "Go on", "All steps seen", "Start the wait", "End the wait", "Meanwhile: step <number>")
 *              button: "Note…", "Photo…", "I did it differently…", "Leave it out…", "Do it again…", "Release by name…"
 *              each ask is a group <ask> (for a fit "<part>: which way round", "… which side", "… lined up", "… gaps apart", "… which one",
 *              "… in what order", "… matched pieces", "… either way"), its description the status word, with
 *                fit      button: "Right: <ask>", "Wrong way round found: <ask>" (or "Fitted, either way: <ask>")
 *                check    button: "<Outcome>: <ask>", say "Free: Shaft"
 *                reading  combo box: "Instrument: <ask>" when the register has one of its kind; text: "Reading: <ask>"; button: "Take: <ask>" (choices: "<Outcome>: <ask>")
 *                wait     button: "Start: <ask>", "End: <ask>"
 *                decide   text: "Reason, when it is not simply reused: <ask>", "Lot or number: <ask>"; combo box: "Source: <ask>";
 *                         button: "Reuse: <ask>", "Repair: <ask>", "Replace: <ask>"
 *                note     text: "Write down: <ask>"; button: "Keep: <ask>"
 *                settled  toggle button: "Show: <ask>" unfolds it again
 *                out      button: "Accept as it is: <ask>"; text: "Reason to accept it", "Accepted by"; button: "Record this deviation"
 *              forms      text: "Note" · "What was done instead", "Reason", "Accepted by" · "Name of who looked" · "Name", "Role", "Statement"
 *                         button: "Never mind", "Keep the note", "Record this deviation", "Leave it out", "Do it again", "Release", "Sign"
 *   Run        toggle buttons: "This job", "Whole bench"; button: "More time at once", "The whole plan", "Less time, closer"
 *              list: "To do now, so that the day ends soonest", its items "<number> <command>" or "End the wait: <wait>"
 *              list: "Lanes", with one item, what the arrow keys have come to: "<number> <command>" or "<wait>", its description how it stands
 *   Readings   list: "Readings"; list item: <reading>, its description limits, as found, as left, verdict
 *   History    button: "Back to the readings"; combo box: "Reading"; check box: "Only serial <serial>"; image: "Run chart", its description what it says
 *   Parts      list: "Parts"; list item: "<item number>  <part name>"
 *   Report     image: "Page 1 of 4"; check box: "Histories"; combo box: "Paper"; button: "Sign off…", "Save as PDF…"; the text "The report is saved." when it is
 *   foot       label: how the record of a shop with a server and the server stand: "<address>: the server has all of it", "Server away since <time>: <n> entries wait"
 *   bars       label: what was taken; button: "Try again" (a save that failed; the record), "Close this notice"
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"
#include "app/pawl-settings.h"
#include "app/pawl-steady.h"
#include "drawing/pawl-trial.h"

G_BEGIN_DECLS

/* What a window needs from outside. Borrowed; outlives the window. */
typedef struct {
  const char           *record_path; /* or the address of a record that a shop shares */
  const PawlRecordHost *host;
  PawlSettings         *settings;
  PawlTrial            *trial;    /* of figures */
  const char           *drafts;   /* (nullable): folder of what was typed and not yet taken */
  const char           *drawn;    /* (nullable) folder where drawn figures are kept */
  const char * const   *folders;  /* of procedures, NULL-terminated */
  const char           *language; /* (nullable) */
  const PawlSteady     *steady;   /* (nullable): the system's */
  const char           *memory;   /* (nullable): file of what is remembered of waits */
} PawlWindowSetting;

#define PAWL_TYPE_WINDOW (pawl_window_get_type ())
G_DECLARE_FINAL_TYPE (PawlWindow, pawl_window, PAWL, WINDOW, GtkApplicationWindow)

PawlWindow  *pawl_window_new           (GtkApplication *application, const PawlWindowSetting *setting);
/* Shows a procedure file's form, or what is wrong with it. */
void         pawl_window_open_file     (PawlWindow *self, const char *path);
gboolean     pawl_window_open_job      (PawlWindow *self, const char *job_id);
void         pawl_window_close_job     (PawlWindow *self);
PawlSession *pawl_window_get_session   (PawlWindow *self); /* (nullable) */

G_END_DECLS
