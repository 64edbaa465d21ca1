/*
 * The readings of a job as XML, "QIF-shaped": the names of elements are those of ISO 23952 (QIF) where its terms fit, so that whoever knows
 * the standard reads it at once. It is not a QIF document: names and nesting are from memory, nothing was held against the standard's schema,
 * and so it is in no namespace of the standard's. An element that QIF has no word for, or none that we know, is an AttributeStr.
 *
 * Characteristics are what a procedure wants measured; a measurement is one value that was held against limits. A characteristic has the same
 * QPId in every job of its procedure: a name-based UUID of procedure, reading and place (RFC 4122, version 5, SHA-1).
 */
#include "export/pawl-export-private.h"

#include <libxml/xmlwriter.h>

#include "procedure/pawl-reader.h"

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlBuffer, xmlBufferFree)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlTextWriter, xmlFreeTextWriter)

/* Drawn once for Pawl: 5f0f6b0e-94a5-4c39-9d53-0d8d6a3f7c11. */
static const guint8 UUID_SPACE[16] = { 0x5f, 0x0f, 0x6b, 0x0e, 0x94, 0xa5, 0x4c, 0x39, 0x9d, 0x53, 0x0d, 0x8d, 0x6a, 0x3f, 0x7c, 0x11 };

static const char REMARK[] =
  " QIF-shaped, not QIF: element names follow ISO 23952 where its terms fit, from memory; this file was not held against the standard's schema. ";

/* One characteristic: a reading, or a place or sum of one. */
typedef struct {
  const PawlAskState *ask;
  const char         *place;  /* "" for the one value */
  const PawlLimits   *limits; /* (nullable) */
  guint               id, item_id;
} Characteristic;

/* One value of it. */
typedef struct {
  const Characteristic *characteristic;
  const PawlAttempt    *attempt; /* (nullable): not measured */
  const PawlJudged     *judged;  /* (nullable): an outcome */
} Measurement;

typedef struct {
  xmlTextWriter *xml;
  PawlJob       *job;
  GPtrArray     *characteristics; /* (element-type Characteristic) */
  GArray        *measurements;    /* (element-type Measurement) */
  GPtrArray     *devices;         /* (element-type char*): "tool mark", as told apart */
  GHashTable    *uses;
  guint          last_id;
} Writer;

/* ---- what there is ---- */

static Characteristic *
find_characteristic (Writer             *self,
                     const PawlAskState *ask,
                     const char         *place,
                     const PawlLimits   *limits)
{
  Characteristic *new_one;

  for (guint i = 0; i < self->characteristics->len; i++)
    {
      Characteristic *known = self->characteristics->pdata[i];

      if (known->ask == ask && g_str_equal (known->place, place))
        return known;
    }
  new_one = g_new0 (Characteristic, 1);
  *new_one = (Characteristic) { ask, place, limits, self->last_id + 1, self->last_id + 2 };
  self->last_id += 2;
  g_ptr_array_add (self->characteristics, new_one);
  return new_one;
}

static void
add_measurement (Writer             *self,
                 const PawlAskState *ask,
                 const PawlAttempt  *attempt,
                 const PawlJudged   *judged)
{
  const PawlLimits *limits = judged != NULL ? judged->limits : ask->limits;
  Measurement measurement = { find_characteristic (self, ask, judged != NULL ? judged->name : "", limits), attempt, judged };

  g_array_append_val (self->measurements, measurement);
}

static void
add_ask (Writer             *self,
         const PawlAskState *ask)
{
  if (ask->attempts->len == 0)
    add_measurement (self, ask, NULL, NULL);
  for (guint i = 0; i < ask->attempts->len; i++)
    {
      const PawlAttempt *attempt = ask->attempts->pdata[i];

      if (attempt->judged->len == 0)
        add_measurement (self, ask, attempt, NULL);
      for (guint j = 0; j < attempt->judged->len; j++)
        add_measurement (self, ask, attempt, attempt->judged->pdata[j]);
    }
}

static char *
name_device (const PawlAttempt *attempt)
{
  const char *tool = attempt != NULL ? pawl_export_get_field (attempt->entry, "instrument") : "";
  const char *mark = attempt != NULL ? pawl_export_get_field (attempt->entry, "tool-serial") : "";

  return *tool != '\0' || *mark != '\0' ? g_strdup_printf ("%s\n%s", tool, mark) : NULL;
}

/* From 1 in the order of first use; 0: none was named. */
static guint
find_device (Writer            *self,
             const PawlAttempt *attempt)
{
  g_autofree char *name = name_device (attempt);

  for (guint i = 0; name != NULL && i < self->devices->len; i++)
    if (g_str_equal (self->devices->pdata[i], name))
      return i + 1;
  if (name == NULL)
    return 0;
  g_ptr_array_add (self->devices, g_steal_pointer (&name));
  return self->devices->len;
}

static void
collect (Writer *self)
{
  GPtrArray *steps = pawl_job_get_steps (self->job);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *ask = step->asks->pdata[j];

          if (ask->ask->kind == PAWL_ASK_READING && ask->status != PAWL_ASK_NOT_APPLICABLE)
            add_ask (self, ask);
        }
    }
  for (guint i = 0; i < self->measurements->len; i++)
    find_device (self, g_array_index (self->measurements, Measurement, i).attempt);
}

/* ---- elements; writing goes to memory and can't fail ---- */

static void
begin (Writer     *self,
       const char *element)
{
  xmlTextWriterStartElement (self->xml, BAD_CAST element);
}

static void
end (Writer *self)
{
  xmlTextWriterEndElement (self->xml);
}

/* XML 1.0 has no place for most control characters; what was typed stands in the record as it is, and here as U+FFFD. */
static char *
dup_allowed (const char *text)
{
  GString *allowed = g_string_new (NULL);

  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    {
      gunichar letter = g_utf8_get_char (c);
      gboolean is_allowed = letter == '\t' || letter == '\n' || letter == '\r' || (letter >= 0x20 && letter != 0xfffe && letter != 0xffff);

      g_string_append_unichar (allowed, is_allowed ? letter : 0xfffd);
    }
  return g_string_free (allowed, FALSE);
}

static void
set (Writer     *self,
     const char *attribute,
     const char *value)
{
  g_autofree char *allowed = dup_allowed (value);

  xmlTextWriterWriteAttribute (self->xml, BAD_CAST attribute, BAD_CAST allowed);
}

static void
set_number (Writer     *self,
            const char *attribute,
            guint       value)
{
  g_autofree char *text = g_strdup_printf ("%u", value);

  set (self, attribute, text);
}

/* Nothing when @text is empty. */
static void
add (Writer     *self,
     const char *element,
     const char *text)
{
  g_autofree char *allowed = text != NULL && *text != '\0' ? dup_allowed (text) : NULL;

  if (allowed != NULL)
    xmlTextWriterWriteElement (self->xml, BAD_CAST element, BAD_CAST allowed);
}

static void
add_number (Writer     *self,
            const char *element,
            guint       value)
{
  g_autofree char *text = g_strdup_printf ("%u", value);

  add (self, element, text);
}

static void
add_attribute (Writer     *self,
               const char *name,
               const char *value)
{
  if (value == NULL || *value == '\0')
    return;
  begin (self, "AttributeStr");
  set (self, "name", name);
  set (self, "value", value);
  end (self);
}

static void
add_value (Writer             *self,
           const char         *element,
           const PawlQuantity *quantity,
           const PawlUnit     *unit)
{
  g_autofree char *number = NULL;

  if (quantity == NULL)
    return;
  number = pawl_export_format_number (quantity, unit);
  begin (self, element);
  set (self, "unitName", pawl_unit_get_symbol (unit));
  xmlTextWriterWriteString (self->xml, BAD_CAST number);
  end (self);
}

/* ---- names ---- */

static char *
make_uuid (const char *procedure,
           const char *reading,
           const char *place)
{
  g_autoptr (GChecksum) sha1 = g_checksum_new (G_CHECKSUM_SHA1);
  g_autofree char *name = g_strjoin ("\n", procedure, reading, place, NULL);
  guint8 d[20];
  gsize size = sizeof d;

  g_checksum_update (sha1, UUID_SPACE, sizeof UUID_SPACE);
  g_checksum_update (sha1, (const guchar *) name, (gssize) strlen (name));
  g_checksum_get_digest (sha1, d, &size);
  d[6] = (d[6] & 0x0f) | 0x50; /* version 5 */
  d[8] = (d[8] & 0x3f) | 0x80; /* the variant of RFC 4122 */
  return g_strdup_printf ("%02x%02x%02x%02x-%02x%02x-%02x%02x-%02x%02x-%02x%02x%02x%02x%02x%02x",
                          d[0], d[1], d[2], d[3], d[4], d[5], d[6], d[7], d[8], d[9], d[10], d[11], d[12], d[13], d[14], d[15]);
}

static const PawlUnit *
get_unit (const Characteristic *self)
{
  return self->limits != NULL ? pawl_limits_get_unit (self->limits) : NULL;
}

/* (transfer full): "LengthCharacteristicDefinition"; a value in any other unit, and an outcome, is the user's own kind of characteristic. */
static char *
name_kind (const Characteristic *self,
           const char           *what)
{
  const PawlUnit *unit = get_unit (self);
  const char *kind = unit == NULL ? "UserDefinedAttribute"
                     : pawl_unit_get_dimension (unit) == PAWL_DIMENSION_LENGTH ? "Length"
                     : pawl_unit_get_dimension (unit) == PAWL_DIMENSION_ANGLE ? "Angle" : "UserDefinedUnit";

  return g_strconcat (kind, "Characteristic", what, NULL);
}

static char *
name_characteristic (const Characteristic *self)
{
  return *self->place != '\0' ? g_strdup_printf ("%s, %s", self->ask->ask->name, self->place) : g_strdup (self->ask->ask->name);
}

/* From memory of QIF's list. What is too close to call is neither. */
static const char *
get_status (const Measurement *self)
{
  if (self->attempt == NULL || !self->attempt->is_whole)
    return "NOT_MEASURED";
  if (self->attempt->is_void)
    return "INVALID";
  switch (self->judged != NULL ? self->judged->verdict.kind : self->attempt->verdict.kind)
    {
    case PAWL_VERDICT_IN:        return "PASS";
    case PAWL_VERDICT_OUT:       return "FAIL";
    case PAWL_VERDICT_TOO_CLOSE: return "UNKNOWN";
    default:                     g_assert_not_reached ();
    }
}

/* ---- parts of the document ---- */

static void
write_head (Writer     *self,
            const char *head)
{
  static const char *const fields[][2] = {
    { "Work order", "work-order" }, { "Procedure", "procedure-id" }, { "Procedure revision", "revision" }, { "Procedure title", "title" },
    { "Variant", "variant" }, { "Decision rule", "policy" },
  };
  GPtrArray *corrections = pawl_job_get_corrections (self->job);

  add (self, "QPId", pawl_job_get_id (self->job));
  begin (self, "Header");
  begin (self, "Application");
  add (self, "Name", "Pawl");
  end (self);
  add (self, "Description", "Readings of one job. QIF-shaped: see the comment above.");
  begin (self, "Attributes");
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    add_attribute (self, fields[i][0], pawl_job_get_field (self->job, fields[i][1]));
  for (guint i = 0; i < corrections->len; i++)
    {
      g_autofree char *what = pawl_correction_describe (corrections->pdata[i]);

      add_attribute (self, "Corrected since it was taken in", what);
    }
  add_attribute (self, "Head of the job's chain, SHA-256", head);
  end (self);
  end (self);
}

static void
write_devices (Writer *self,
               guint   first_id)
{
  begin (self, "MeasurementResources");
  begin (self, "MeasurementDevices");
  set_number (self, "n", self->devices->len);
  for (guint i = 0; i < self->devices->len; i++)
    {
      g_auto (GStrv) words = g_strsplit (self->devices->pdata[i], "\n", 2);
      GPtrArray *tools = pawl_procedure_get_tools (pawl_job_get_procedure (self->job));
      const char *name = words[0];

      for (guint j = 0; j < tools->len; j++)
        if (g_str_equal (((PawlTool *) tools->pdata[j])->id, words[0]))
          name = ((PawlTool *) tools->pdata[j])->name;
      begin (self, "MeasurementDevice");
      set_number (self, "id", first_id + i);
      add (self, "Name", name);
      add (self, "SerialNumber", words[1]);
      end (self);
    }
  end (self);
  end (self);
}

static void
write_product (Writer *self,
               guint   id)
{
  PawlProcedure *procedure = pawl_job_get_procedure (self->job);

  begin (self, "Product");
  begin (self, "PartSet");
  set_number (self, "n", 1);
  begin (self, "Part");
  set_number (self, "id", id);
  add (self, "Name", pawl_job_get_field (self->job, "unit"));
  add (self, "ModelNumber", pawl_procedure_get_model (procedure));
  begin (self, "Manufacturer");
  add (self, "Name", pawl_procedure_get_maker (procedure));
  end (self);
  add (self, "SerialNumber", pawl_job_get_field (self->job, "serial"));
  end (self);
  end (self);
  end (self);
}

static void
write_definition (Writer               *self,
                  const Characteristic *characteristic)
{
  g_autofree char *element = name_kind (characteristic, "Definition");
  g_autofree char *name = name_characteristic (characteristic);
  g_autofree char *uuid = make_uuid (pawl_procedure_get_id (pawl_job_get_procedure (self->job)), characteristic->ask->ask->id, characteristic->place);
  const PawlLimits *limits = characteristic->limits;
  const PawlUnit *unit = get_unit (characteristic);

  begin (self, element);
  set_number (self, "id", characteristic->id);
  add (self, "QPId", uuid);
  add (self, "Name", name);
  add (self, "Description", characteristic->ask->ask->says);
  begin (self, "Attributes");
  add_attribute (self, "Reading", characteristic->ask->ask->id);
  add_attribute (self, "Limits as printed", limits != NULL ? pawl_limits_get_text (limits) : "");
  add_attribute (self, "Source", characteristic->ask->ask->source);
  end (self);
  if (unit != NULL)
    {
      add_value (self, "TargetValue", pawl_limits_peek_nominal (limits), unit);
      begin (self, "Tolerance");
      add_value (self, "MaxValue", pawl_limits_peek_high (limits), unit);
      add_value (self, "MinValue", pawl_limits_peek_low (limits), unit);
      end (self);
    }
  end (self);
}

static void
write_characteristics (Writer *self)
{
  begin (self, "Characteristics");
  begin (self, "CharacteristicDefinitions");
  set_number (self, "n", self->characteristics->len);
  for (guint i = 0; i < self->characteristics->len; i++)
    write_definition (self, self->characteristics->pdata[i]);
  end (self);
  begin (self, "CharacteristicItems");
  set_number (self, "n", self->characteristics->len);
  for (guint i = 0; i < self->characteristics->len; i++)
    {
      const Characteristic *characteristic = self->characteristics->pdata[i];
      g_autofree char *element = name_kind (characteristic, "Item");
      g_autofree char *name = name_characteristic (characteristic);

      begin (self, element);
      set_number (self, "id", characteristic->item_id);
      add (self, "Name", name);
      add_number (self, "CharacteristicDefinitionId", characteristic->id);
      end (self);
    }
  end (self);
  end (self);
}

static void
write_entry (Writer            *self,
             const Measurement *measurement)
{
  const PawlAttempt *attempt = measurement->attempt;
  g_autofree char *at = pawl_export_format_time (pawl_entry_peek_at (attempt->entry));

  begin (self, "Attributes");
  add_attribute (self, "Stage", pawl_export_get_use (self->uses, attempt));
  if (!attempt->is_derived)
    add_attribute (self, "As typed", pawl_export_get_field (attempt->entry, "answer"));
  add_attribute (self, "Origin", pawl_attempt_get_origin (attempt));
  if (measurement->judged != NULL && measurement->judged->verdict.is_worn)
    add_attribute (self, "Worn", "within the wear limit, outside the limits for new parts");
  add_attribute (self, "Calibration due then", pawl_export_get_field (attempt->entry, "due"));
  add_attribute (self, "Entry", pawl_entry_get_id (attempt->entry));
  end (self);
  add (self, "InspectorName", pawl_entry_get_person (attempt->entry));
  add (self, "Time", at);
}

static void
write_value (Writer            *self,
             const Measurement *measurement)
{
  const PawlJudged *judged = measurement->judged;
  const PawlUnit *unit = judged != NULL ? pawl_limits_get_unit (judged->limits) : NULL;
  g_autofree char *number = NULL;

  if (unit == NULL)
    {
      add (self, "Value", pawl_export_get_field (measurement->attempt->entry, "answer"));
      return;
    }
  number = pawl_export_format_number (judged->quantity, unit);
  begin (self, "Value");
  set (self, "unitName", pawl_unit_get_symbol (unit));
  if (judged->verdict.expanded > 0)
    {
      char expanded[G_ASCII_DTOSTR_BUF_SIZE];

      set (self, "expandedUncertainty", g_ascii_formatd (expanded, sizeof expanded, "%.6g", judged->verdict.expanded));
    }
  xmlTextWriterWriteString (self->xml, BAD_CAST number);
  end (self);
}

static void
write_measurement (Writer            *self,
                   const Measurement *measurement,
                   guint              first_device)
{
  g_autofree char *element = name_kind (measurement->characteristic, "Measurement");
  guint device = find_device (self, measurement->attempt);

  begin (self, element);
  set_number (self, "id", ++self->last_id);
  if (measurement->attempt != NULL)
    write_entry (self, measurement);
  begin (self, "Status");
  add (self, "CharacteristicStatusEnum", get_status (measurement));
  end (self);
  add_number (self, "CharacteristicItemId", measurement->characteristic->item_id);
  if (device > 0)
    add_number (self, "MeasurementDeviceId", first_device + device - 1);
  if (measurement->attempt != NULL)
    write_value (self, measurement);
  end (self);
}

static void
write_results (Writer *self,
               guint   first_device,
               guint   part)
{
  begin (self, "MeasurementsResults");
  begin (self, "MeasurementResultsSet");
  set_number (self, "n", 1);
  begin (self, "MeasurementResults");
  set_number (self, "id", ++self->last_id);
  add_number (self, "PartId", part);
  begin (self, "MeasuredCharacteristics");
  begin (self, "CharacteristicMeasurements");
  set_number (self, "n", self->measurements->len);
  for (guint i = 0; i < self->measurements->len; i++)
    write_measurement (self, &g_array_index (self->measurements, Measurement, i), first_device);
  for (guint i = 0; i < 5; i++)
    end (self);
}

/* The largest id is known before anything is written: devices and part come after the characteristics, then the results and measurements. */
static void
write_document (Writer     *self,
                const char *head)
{
  guint first_device = self->last_id + 1, part = first_device + self->devices->len;

  self->last_id = part;
  xmlTextWriterStartDocument (self->xml, "1.0", "UTF-8", NULL);
  xmlTextWriterWriteComment (self->xml, BAD_CAST REMARK);
  xmlTextWriterWriteString (self->xml, BAD_CAST "\n");
  begin (self, "QIFDocument");
  set_number (self, "idMax", part + 1 + self->measurements->len);
  write_head (self, head);
  write_devices (self, first_device);
  write_product (self, part);
  write_characteristics (self);
  write_results (self, first_device, part);
  end (self);
  xmlTextWriterEndDocument (self->xml);
}

/**
 * pawl_export_format_results:
 * @job: a job
 * @head: digest of its last entry
 *
 * All attempts, with what each was: as found, as left, an attempt between; what was not measured has no value. Values are in the limits' unit,
 * beside what was typed.
 *
 * Returns: (transfer full): an XML document in UTF-8, well-formed whatever was typed
 */
char *
pawl_export_format_results (PawlJob    *job,
                            const char *head)
{
  g_autoptr (xmlBuffer) buffer = xmlBufferCreate ();
  g_autoptr (xmlTextWriter) xml = xmlNewTextWriterMemory (buffer, 0);
  g_autoptr (GPtrArray) characteristics = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) measurements = g_array_new (FALSE, TRUE, sizeof (Measurement));
  g_autoptr (GPtrArray) devices = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) uses = pawl_export_list_uses (job);
  Writer self = { .xml = xml, .job = job, .characteristics = characteristics, .measurements = measurements, .devices = devices, .uses = uses };

  xmlTextWriterSetIndent (xml, 1);
  xmlTextWriterSetIndentString (xml, BAD_CAST "  ");
  collect (&self);
  write_document (&self, head);
  xmlTextWriterFlush (xml);
  return g_strdup ((const char *) xmlBufferContent (buffer));
}
