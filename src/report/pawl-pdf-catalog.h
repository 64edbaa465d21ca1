/* What the PDF library at the floor can't say of a document: its language, that viewers show its title instead of its file's name, and that its parts are one document. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * pawl_pdf_catalog_complete:
 * @pdf: a whole file with a plain cross-reference table, as cairo 1.16 writes it
 * @language: like "en" or "de-AT"
 *
 * Adds /Lang and /ViewerPreferences to the document's catalog by an incremental update (ISO 32000-1, 7.5.6, from memory): the catalog is written once more
 * behind the end, with a cross-reference section of its own, and nothing before it changes. Where there are tags, they are put under one element, "Document".
 *
 * Returns: whether the file was one that it understands; if not it is as it was, and still a good one
 */
gboolean pawl_pdf_catalog_complete (GByteArray *pdf, const char *language);

G_END_DECLS
