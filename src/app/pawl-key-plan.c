#include "app/pawl-key-plan.h"

/* X keysyms, by their published numbers (X11 protocol, appendix A), so that this needs no window system. */
enum {
  KEY_SPACE = 0x0020, KEY_BACKSPACE = 0xff08, KEY_RETURN = 0xff0d, KEY_PAGE_UP = 0xff55, KEY_PAGE_DOWN = 0xff56,
  KEY_PAD_ENTER = 0xff8d, KEY_PAD_PAGE_UP = 0xff9a, KEY_PAD_PAGE_DOWN = 0xff9b, KEY_PAD_DECIMAL = 0xffae, KEY_PAD_SEPARATOR = 0xffac,
  KEY_PAD_SUBTRACT = 0xffad, KEY_PAD_DELETE = 0xff9f, KEY_DELETE = 0xffff, KEY_PAD_0 = 0xffb0, KEY_PAD_9 = 0xffb9,
};

static gboolean
begins_reading (guint keyval)
{
  return (keyval >= '0' && keyval <= '9') || keyval == '.' || keyval == ',' || keyval == '-' || keyval == '#'
         || (keyval >= KEY_PAD_0 && keyval <= KEY_PAD_9) || keyval == KEY_PAD_DECIMAL || keyval == KEY_PAD_SEPARATOR
         || keyval == KEY_PAD_SUBTRACT;
}

static gboolean
is_enter (guint keyval)
{
  return keyval == KEY_RETURN || keyval == KEY_PAD_ENTER;
}

PawlKeyPlan
pawl_key_plan (guint keyval, gboolean has_modifiers, PawlFocus focus)
{
  if (has_modifiers || focus == PAWL_FOCUS_LONG_TEXT)
    return PAWL_KEY_PASS;
  if (focus == PAWL_FOCUS_ELSEWHERE)
    return begins_reading (keyval) ? PAWL_KEY_READING : PAWL_KEY_PASS;
  if (keyval == KEY_PAGE_DOWN || keyval == KEY_PAD_PAGE_DOWN)
    return PAWL_KEY_ADVANCE;
  if (keyval == KEY_PAGE_UP || keyval == KEY_PAD_PAGE_UP)
    return PAWL_KEY_BACK;
  if (focus == PAWL_FOCUS_TEXT)
    return PAWL_KEY_PASS;
  if (keyval == KEY_DELETE || keyval == KEY_PAD_DELETE)
    return PAWL_KEY_REJECT;
  if (focus == PAWL_FOCUS_CONTROL)
    {
      if (keyval == KEY_BACKSPACE)
        return PAWL_KEY_BACK;
      return begins_reading (keyval) ? PAWL_KEY_READING : PAWL_KEY_PASS;
    }
  if (keyval == KEY_SPACE || is_enter (keyval))
    return PAWL_KEY_ADVANCE;
  if (focus == PAWL_FOCUS_EMPTY_TEXT)
    return PAWL_KEY_PASS;
  if (keyval == KEY_BACKSPACE)
    return PAWL_KEY_BACK;
  return begins_reading (keyval) ? PAWL_KEY_READING : PAWL_KEY_PASS;
}
