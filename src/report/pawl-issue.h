/*
 * Reports that left the bench. Each is an entry of its job, a note with further fields, so that an older Pawl reads it as one:
 *   noted  text: what a person reads; issued: the print; version; digest: of the PDF, kept in the record as it went out
 * A later one is the next version, and says what was entered in between. Taking the entry back takes no paper back: its version stays used.
 */
#pragma once

#include "report/pawl-report.h"

G_BEGIN_DECLS

/* Whether this note says that a report was issued. */
gboolean    pawl_issue_is_one         (const PawlEntry *entry);
/* The version that the next report of this print has: 1 when none was issued. */
guint       pawl_issue_next_version   (PawlJob *job, PawlPrint print);
/* (nullable): the digest of the PDF of that version. */
const char *pawl_issue_find           (PawlJob *job, PawlPrint print, guint version);
/* (transfer full): NULL-terminated, a sentence for each entry since this print was issued last; empty when it never was. */
char      **pawl_issue_list_changes   (PawlJob *job, PawlPrint print);
/* (transfer full): to be appended once the PDF is kept. */
PawlEntry  *pawl_issue_new_entry      (PawlPrint print, guint version, guint n_pages, const char *digest, const char *person, GDateTime *at);

G_END_DECLS
