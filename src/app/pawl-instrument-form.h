/*
 * The form for one entry of the register: a new instrument, a change, a calibration, a retirement. What is typed stays until it is on disk.
 * Signals "taken" (char *mark): it is on disk; "left": never mind.
 */
#pragma once

#include <gtk/gtk.h>
#include "register/pawl-register.h"

G_BEGIN_DECLS

typedef enum { PAWL_INSTRUMENT_ADD, PAWL_INSTRUMENT_CHANGE, PAWL_INSTRUMENT_CALIBRATE, PAWL_INSTRUMENT_RETIRE } PawlInstrumentFormKind;

#define PAWL_TYPE_INSTRUMENT_FORM (pawl_instrument_form_get_type ())
G_DECLARE_FINAL_TYPE (PawlInstrumentForm, pawl_instrument_form, PAWL, INSTRUMENT_FORM, GtkWidget)

/* @gauge: (nullable): only for a new one; borrowed for the call. @record: kept until the next call. @person: who states it, unless another name is typed. */
void pawl_instrument_form_open (PawlInstrumentForm *self, PawlInstrumentFormKind kind, PawlRecord *record, const PawlGauge *gauge, const char *person);

G_END_DECLS
