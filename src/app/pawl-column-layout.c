#include "app/pawl-column-layout.h"

struct _PawlColumnLayout {
  GtkLayoutManager parent_instance;
};

G_DEFINE_FINAL_TYPE (PawlColumnLayout, pawl_column_layout, GTK_TYPE_LAYOUT_MANAGER)

/* @width: of the page, -1: any */
static int
get_column (GtkWidget *child, int width)
{
  int minimum;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  return MAX (minimum, width < 0 ? PAWL_COLUMN_WIDTH : MIN (width, PAWL_COLUMN_WIDTH));
}

static GtkSizeRequestMode
get_request_mode (GtkLayoutManager *layout, GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
measure (GtkLayoutManager *layout, GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline,
         int *natural_baseline)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);

  if (orientation == GTK_ORIENTATION_VERTICAL)
    {
      gtk_widget_measure (child, orientation, get_column (child, for_size), minimum, natural, NULL, NULL);
      return;
    }
  *minimum = get_column (child, 0);
  *natural = get_column (child, -1);
}

static void
allocate (GtkLayoutManager *layout, GtkWidget *widget, int width, int height, int baseline)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);
  int column = get_column (child, width);

  gtk_widget_size_allocate (child, &(GtkAllocation) { MAX (width - column, 0) / 2, 0, column, height }, -1);
}

static void
pawl_column_layout_class_init (PawlColumnLayoutClass *klass)
{
  GtkLayoutManagerClass *layout_class = GTK_LAYOUT_MANAGER_CLASS (klass);

  layout_class->get_request_mode = get_request_mode;
  layout_class->measure = measure;
  layout_class->allocate = allocate;
}

static void
pawl_column_layout_init (PawlColumnLayout *self)
{
}
