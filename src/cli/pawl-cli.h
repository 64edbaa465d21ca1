/* What the commands share: options, messages, the record, a job, JSON. */
#pragma once

#include <json-glib/json-glib.h>

#include "bench/pawl-bench.h"
#include "cli/pawl-commands.h"
#include "drawing/pawl-trial.h"
#include "recall/pawl-csv.h"
#include "report/pawl-report.h"
#include "view/pawl-seated-sight.h"

G_BEGIN_DECLS

/* Text of an option or argument is taken as bytes and has to be UTF-8, whatever the locale: an option is G_OPTION_ARG_FILENAME. */

/**
 * pawl_cli_parse:
 * @entries: as for g_option_context_add_main_entries()
 * @parameters: what follows the options, for the help: "FILE…"
 * @summary: what the command does, for the help
 * @min, @max: how many arguments may follow; @max below 0: any number
 *
 * Takes the options out of @argv, which keeps the command's name and the arguments. Says what is wrong and what would be right.
 */
gboolean    pawl_cli_parse        (int *argc, char ***argv, const GOptionEntry *entries, const char *parameters, const char *summary, int min, int max);
/* How numbers are typed, of --decimal-mark and --unit; each (nullable): a point, and a bare number is asked back. */
gboolean    pawl_cli_read_typing  (const char *decimal_mark, const char *unit, PawlTyping *typing, GError **error);
/* FALSE: "--policy “strict” is not understood; it is WANTED". Of @value the beginning is quoted, as text whatever it is. */
gboolean    pawl_cli_refuse_value (const char *option, const char *value, const char *wanted, GError **error);
/* (transfer full): the beginning of what was typed, to be quoted: valid UTF-8, no more than 80 characters. */
char       *pawl_cli_dup_quoted   (const char *typed);
/* "pawl check: MESSAGE" on stderr. */
void        pawl_cli_complain     (const char *command, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* Says @error's message, and returns PAWL_EXIT_COULD_NOT. */
int         pawl_cli_fail         (const char *command, const GError *error);

/* @path: (nullable): of --record, a file or a shop's address; NULL: the one in the user's data folder. */
PawlRecord *pawl_cli_open_record  (const char *path, PawlRecordOpen how, GError **error);
/* Opens the record read-only and takes up the job that @text means. */
PawlBench  *pawl_cli_open_job     (const char *record_path, const char *text, GError **error);
/* The same of a record that is there already, to append to it. */
PawlBench  *pawl_cli_open_job_to_write (const char *record_path, const char *text, GError **error);

/* ---- figures: scanned, and tried by the helper unless a verdict is kept. In pawl-cli-figure.c ---- */
/* (transfer full): with the user's kept verdicts. */
PawlTrial  *pawl_cli_new_trial    (void);
/* The job's own figure: (nullable) without @error when it has none. */
PawlFigure *pawl_cli_load_figure  (PawlBench *bench, GError **error);
PawlFigure *pawl_cli_load_figure_file (const char *path, PawlTrialUse use, GError **error);
/* The figure that @procedure names; refused, in the words of “pawl check”, when it lacks a region that a part names. */
PawlFigure *pawl_cli_load_procedure_figure (PawlProcedure *procedure, GError **error);
/* (transfer full): all findings; @shown: the figure's name in them. @sight: (nullable): of the figure, for covers that nobody wrote. */
GPtrArray  *pawl_cli_proof_read   (PawlProcedure *procedure, PawlFigure *figure, const char *shown, const PawlSeatedSight *sight);

/* (transfer full): "61 of 62 steps done, 1 left out" */
char       *pawl_cli_describe_progress (PawlJob *job);
/* Writes the report of @bench's job. @issued: (nullable): now. A figure that is refused is left out of it, which is said on stderr and in it. */
typedef struct {
  const char *command; /* "pawl report" */
  const char *output, *print, *paper, *shop, *shop_address, *shop_registration, *clauses, *issued; /* (nullable) but output */
  gboolean    has_history; /* run charts of the readings */
  int         version;                                                          /* 0: the one that comes next */
  const char *issued_by; /* (nullable): the report is issued: its PDF is kept, and an entry says so, by this person */
} PawlCliReport;
/* In pawl-cli-report.c: the shop's settings, of the user's config folder; the clauses of @path, else the shop's, else the program's. */
PawlShop   *pawl_cli_load_shop    (GError **error);
PawlClauses *pawl_cli_load_clauses (const char *path, const PawlShop *shop, GError **error);
/* FALSE: "there is no paper “X”; it is a4 or letter". @text: (nullable): @paper stays as it is. */
gboolean    pawl_cli_read_paper   (const char *text, PawlPaper *paper, GError **error);
/* Prints each word, and each clause with what it lacks. */
void        pawl_cli_print_words  (const PawlClauses *clauses, PawlJob *job);
void        pawl_cli_print_words_as_json  (const PawlClauses *clauses, PawlJob *job); /* all of it, however much is lacking */
/* Writes the PDF of a version that was issued, as it went out. */
gboolean    pawl_cli_write_issued (PawlBench *bench, const char *print, int version, const char *path, GError **error);
gboolean    pawl_cli_write_report (PawlBench *bench, const PawlCliReport *report, guint *n_pages, GError **error);

/*
 * JSON has one style for all commands, which tests/cli holds them to: names are words-with-hyphens, and one name means one thing everywhere ("job" is always the
 * id of a job, "unit" what the job is about, "unit-symbol" a unit of measurement); a member that doesn't apply is null, not left out; instants are RFC 3339;
 * durations say their unit ("late-seconds").
 */
/* Prints what @builder built, indented, with a line end. */
void        pawl_cli_print_json   (JsonBuilder *builder);
void        pawl_cli_add_string   (JsonBuilder *builder, const char *member, const char *value); /* (nullable) @value: null */
void        pawl_cli_add_time     (JsonBuilder *builder, const char *member, GDateTime *time);   /* (nullable) @time: null */
void        pawl_cli_add_int      (JsonBuilder *builder, const char *member, gint64 value);
void        pawl_cli_add_count    (JsonBuilder *builder, const char *member, gboolean is_known, gint64 value); /* not known: null */
/* Members of an object that is begun: where a job stands; one entry. In pawl-cli-job.c */
void        pawl_cli_add_job      (JsonBuilder *builder, PawlJob *job);
void        pawl_cli_add_entry    (JsonBuilder *builder, const PawlEntry *entry, gboolean is_undone);
/* (transfer full): "2026-11-25 14:05"; "" for NULL. */
char       *pawl_cli_format_time  (GDateTime *time);

G_END_DECLS
