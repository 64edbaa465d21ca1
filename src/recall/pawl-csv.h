/* Tables for other programs: CSV as RFC 4180 has it, in UTF-8. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Appends a line: fields with a comma, a quote or a line end in quotes, quotes doubled, CR LF at its end. NULL is an empty field. */
void pawl_csv_append (GString *csv, const char *const *fields, gsize n_fields);

#define pawl_csv_append_line(csv, ...)                                                                                \
  pawl_csv_append ((csv), (const char *const[]) { __VA_ARGS__ }, G_N_ELEMENTS (((const char *const[]) { __VA_ARGS__ })))

/* (transfer full): an instant as RFC 3339 has it, whole or with microseconds: "2026-11-25T09:15:00+01:00", "2026-11-25T08:15:00Z"; "" for NULL. */
char *pawl_csv_format_time (GDateTime *time);

G_END_DECLS
