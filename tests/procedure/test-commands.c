/* Commands that tell what is asked first: what tells, and what only names parts, places and the end from which a part goes in. Sentences are invented. */
#include <string.h>

#include "procedure/pawl-reader.h"

/* Part "Lip seal" is fitted; "Rear plate", "Rotor" and "Bearing" are about. */
static GPtrArray *
check (const char *command, const char *says, const char *datum, const char *language)
{
  g_autofree char *text = g_markup_printf_escaped (
    "<procedure xmlns='urn:pawl:procedure:1' id='small' revision='1' xml:lang='%s'>"
    "<title>Small</title><unit>Small unit, invented</unit><author>Pawl</author><licence>CC0-1.0</licence><verified how='on-paper'/><attended>1 h</attended>"
    "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions>"
    "<parts><part id='seal' item='1' name='Lip seal'/><part id='plate' item='2' name='Rear plate' stays='yes'/><part id='rotor' item='3' name='Rotor' stays='yes'/>"
    "<part id='bearing' item='4' name='Bearing' stays='yes'/></parts><phase id='all' title='All'>"
    "<step id='seal-in' install='seal' hold='review'><do>%s</do><fit id='sense' kind='sense' part='seal' if-wrong='hides'><says>%s</says><datum>%s</datum>"
    "<wrong>W</wrong><tell>T</tell><verify>V</verify><turned seat='0' points='0,10 0,20 8,20 8,18 3,18 3,10'/></fit></step></phase></procedure>",
    language, command, says, datum);
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load_bytes (bytes, "small.xml", NULL, &error);

  g_assert_no_error (error);
  return pawl_procedure_proof_read (procedure, NULL);
}

static gboolean
tells (const char *command, const char *says, const char *datum, const char *language)
{
  g_autoptr(GPtrArray) findings = check (command, says, datum, language);
  gboolean is_found = FALSE;

  for (guint i = 0; i < findings->len; i++)
    {
      const PawlFinding *finding = findings->pdata[i];

      if (g_str_equal (finding->code, "command-tells"))
        {
          g_assert_cmpint (finding->severity, ==, PAWL_SEVERITY_ADVICE);
          is_found = TRUE;
        }
    }
  return is_found;
}

#define LIP "The lip looks to the engine, whose oil it keeps out."

static const struct { const char *command, *says, *datum; gboolean is_telling; } rows[] = {
  /* what to do, with what, into what, from where */
  { "Press the new seal in, square.", LIP, "engine oil", FALSE },
  { "Press the seal into the rear plate from the engine side.", LIP, "engine oil", FALSE },
  { "Press the lip seal on to the rotor as far as the bearing.", "The lip looks to the rotor.", "rotor", FALSE },
  { "Screw it down, up to the stop, in two rounds.", "The lip looks up.", "top", FALSE },
  { "Drive the seal into the end of the plate.", "The thick end enters first.", "insertion", FALSE },
  { "Set the pin before the pinion.", "The pinion drives it.", "drive", FALSE }, /* one word that is alike, one that only begins so */
  /* two words of the answer that name no part */
  { "Press the seal in, its spring in the oil.", "The spring looks to the oil.", "oil", TRUE },
  { "Slide it into the slot, bevels to the bore.", "Both bevelled edges lie flat on the bore.", "flange", TRUE },
  /* a direction with one of them, or with a part */
  { "Press it in, spring toward the rotor.", "The spring looks to the rotor.", "rotor", TRUE },
  { "Seat it on bright limbs, stud to the lead side.", "The stud looks to the side of the lead.", "lead", TRUE },
  { "Seat it on bright limbs, from the lead side.", "The stud looks to the side of the lead.", "lead", FALSE },
  /* the direction itself */
  { "Drive the plug in, dome outward.", "The round face looks outward.", "outside", TRUE },
  { "Turn the drum clockwise and drop it in.", "The teeth lean clockwise.", "seen from the frame", TRUE },
  { "Turn the drum clockwise and drop it in.", "The teeth lean to the left.", "seen from the frame", FALSE },
};

static void
test_rows (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("%s", rows[i].command);
      g_assert_cmpint (tells (rows[i].command, rows[i].says, rows[i].datum, "en"), ==, rows[i].is_telling);
    }
}

/* Another language has other small words; nothing is said of it. */
static void
test_language (void)
{
  g_assert_false (tells ("Press the seal in, its spring in the oil.", "The spring looks to the oil.", "oil", "cy"));
  g_assert_true (tells ("Press the seal in, its spring in the oil.", "The spring looks to the oil.", "oil", "en-GB"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/procedure/commands/rows", test_rows);
  g_test_add_func ("/procedure/commands/language", test_language);
  return g_test_run ();
}
