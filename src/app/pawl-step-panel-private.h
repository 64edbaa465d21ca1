/*
 * Inside the step panel: pawl-step-panel.c puts the state of a step on its widgets, -keys.c takes the keyboard and what gauges type to its asks, -forms.c has
 * the small forms.
 */
#pragma once

#include "app/pawl-step-panel.h"

G_BEGIN_DECLS

struct _PawlStepPanel {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *scroller, *content, *place, *status, *cautions, *command, *info, *expect, *facts, *alikes, *banner, *hold, *release, *call, *take_apart;
  GtkWidget *covered_box, *covered_title, *covered, *photo_ask, *asks, *photos, *notes, *deviate, *skip, *redo, *opens, *form, *why_not, *back, *advance, *advance_label;

  /* owned */
  PawlSession *session;
  PawlJob     *job;      /* holds what the page borrows */
  char        *step_id;  /* whose rows are on show */
  char        *spoken;   /* (nullable) what was said about a refused press */
  guint        n_entries;    /* of the job when it was said */
  guint        n_applied;    /* of the job on show */
  GtkWidget   *revealed;     /* (nullable) weak: row to scroll to when the layout is settled */
  guint        reveal_id;
};

/* Scrolls to @row once it has its size. */
void pawl_step_panel_reveal           (PawlStepPanel *self, GtkWidget *row);
/* What was typed into the small form is kept for the step on show, and put back when that is shown again. */
void pawl_step_panel_keep_form        (PawlStepPanel *self);
void pawl_step_panel_restore_form     (PawlStepPanel *self);
void pawl_step_panel_form_answered_cb (PawlPromptForm *form, PawlStepPanel *self);
/* What opens again with what is asked or put right now. */
void pawl_step_panel_apply_opens      (PawlStepPanel *self);

G_END_DECLS
