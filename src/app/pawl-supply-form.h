/*
 * The form for what is not there, or came: of one part or supply. What is typed stays until it was taken.
 * Signal "answered": the owner makes the entry, takes it, and closes the form, or says what is wrong with it.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-answer.h"

G_BEGIN_DECLS

#define PAWL_TYPE_SUPPLY_FORM (pawl_supply_form_get_type ())
G_DECLARE_FINAL_TYPE (PawlSupplyForm, pawl_supply_form, PAWL, SUPPLY_FORM, GtkWidget)

/* @id, @name: of the part or supply; @is_supply: it runs out instead of being missing; @is_lacking: it may arrive. */
void       pawl_supply_form_open       (PawlSupplyForm *self, const char *id, const char *name, gboolean is_supply, gboolean is_lacking);
void       pawl_supply_form_close      (PawlSupplyForm *self);
void       pawl_supply_form_say        (PawlSupplyForm *self, const char *problem);
/* (transfer full) */
PawlEntry *pawl_supply_form_make_entry (PawlSupplyForm *self, PawlHand hand);

G_END_DECLS
