/* A procedure around some steps, for tests that need no file. Parts a, b, c; d comes from the kit. Tool gauge. The steps begin on line 10. */
#pragma once

#include "procedure/pawl-reader.h"

static inline char *
snippet_text (const char *steps)
{
  return g_strconcat ("<procedure xmlns='urn:pawl:procedure:1' id='snippet' revision='1' xml:lang='en'>\n"
                      "<title>Snippet</title><unit>Unit, invented</unit><author>Pawl project</author><licence>CC0-1.0</licence>\n"
                      "<verified how='on-paper'/><attended>1 h</attended><variants><variant id='rh' name='RH'/><variant id='lh' name='LH'/></variants>\n"
                      "<tools><tool id='gauge' name='Gauge' error='0.01 mm'/></tools><supplies><none/></supplies><cautions><none/></cautions>\n"
                      "<kit name='Kit (invented)'/><parts>\n"
                      "<part id='a' item='1' name='A' symmetric='yes'/><part id='b' item='2' name='B' symmetric='yes'/>\n"
                      "<part id='c' item='10' name='C' symmetric='yes'/><part id='d' item='9A' name='D' symmetric='yes' kit='yes'/>\n"
                      "</parts>\n"
                      "<phase id='only' title='Only'>\n",
                      steps, "</phase></procedure>\n", NULL);
}

static inline PawlProcedure *
snippet_load (const char *steps)
{
  g_autofree char *text = snippet_text (steps);
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure = pawl_procedure_load_bytes (bytes, "snippet.xml", NULL, &error);

  g_assert_no_error (error);
  return procedure;
}
