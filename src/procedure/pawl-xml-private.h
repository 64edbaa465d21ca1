/* XML that nobody vouches for: parsed without network, entities or includes, under caps, with true line numbers. */
#pragma once

#include <libxml/tree.h>

#include "procedure/pawl-reader.h"

G_BEGIN_DECLS

#define PAWL_XML_MAX_DEPTH 64
#define PAWL_XML_MAX_ELEMENTS 100000
#define PAWL_XML_TOO_LARGE "the file has over 4 MiB; a procedure has some hundred KiB at most"

/* Why a file is refused. The first fault stands; later ones are dropped. */
typedef struct {
  gboolean           is_set;
  PawlProcedureError code;
  int                line;    /* 0 when it has no line */
  char              *message; /* without file and line */
} PawlFault;

/* Always FALSE, so that a reader can return it. */
gboolean    pawl_fault_set   (PawlFault *fault, PawlProcedureError code, int line, const char *format, ...) G_GNUC_PRINTF (4, 5);
void        pawl_fault_clear (PawlFault *fault);

/* (transfer full) (nullable): the tree of @bytes; NULL with @fault set. */
xmlDoc     *pawl_xml_parse    (GBytes *bytes, PawlFault *fault);
/* The line on which the start tag begins, or the text; counted by us, since libxml2 stops at 65535. */
int         pawl_xml_get_line (const xmlNode *node);
gboolean    pawl_xml_is       (const xmlNode *node, const char *name);
/* (nullable): the next element from @node on, itself included; comments and the like are passed over. */
xmlNode    *pawl_xml_skip     (xmlNode *node);
/* (transfer full) (nullable): value of the attribute without namespace; NULL when it is not given. */
char       *pawl_xml_dup_attribute (const xmlNode *element, const char *name);
/* (transfer full): "" when empty. */
char       *pawl_xml_dup_value     (const xmlAttr *attribute);
/* (transfer full): @text as a message shows it: trimmed, on one line, the first 60 characters and "…". */
char       *pawl_xml_shorten       (const char *text);

/* TRUE when @doc follows the schema; else FALSE and @fault says where not, in words for the author. */
gboolean    pawl_schema_validate (xmlDoc *doc, PawlFault *fault);
/* (nullable): a sentence for the first fault by the schema in @doc, with its line. @grammar: the schema's own document. */
char       *pawl_schema_explain  (xmlDoc *grammar, xmlDoc *doc, int *line);

/* (nullable): which of @words @typed was probably meant for, when one is near enough. NULL-terminated. */
const char *pawl_suggest (const char *typed, const char * const *words);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlDoc, xmlFreeDoc)

G_END_DECLS
