/* Reading a formula: recursive descent, one function a level of binding. */
#include <string.h>

#include "measure/pawl-formula-private.h"
#include "measure/pawl-number-private.h"

typedef struct {
  const char         *text;
  const char         *at;
  const char * const *known; /* names that may stand */
  GPtrArray          *used;  /* (element-type utf8) */
  guint               depth;
  GError            **error;
} Reader;

static Node *read_sum (Reader *self);

static const struct {
  const char *name;
  NodeKind    kind;
  guint       least, most; /* 0: any number */
} functions[] = {
  { "min", NODE_MIN, 1, 0 },   { "max", NODE_MAX, 1, 0 },   { "mean", NODE_MEAN, 1, 0 }, { "sum", NODE_SUM, 1, 0 },
  { "spread", NODE_SPREAD, 2, 0 },
  { "abs", NODE_ABS, 1, 1 },   { "sqrt", NODE_SQRT, 1, 1 }, { "sin", NODE_SIN, 1, 1 },   { "cos", NODE_COS, 1, 1 },
  { "tan", NODE_TAN, 1, 1 },   { "asin", NODE_ASIN, 1, 1 }, { "acos", NODE_ACOS, 1, 1 }, { "atan", NODE_ATAN, 1, 1 },
  { "arc", NODE_ARC, 2, 2 },   { "rad", NODE_RAD, 1, 1 },
};

const char *
pawl_formula_get_function (NodeKind kind, guint *least, guint *most)
{
  for (gsize i = 0; i < G_N_ELEMENTS (functions); i++)
    if (functions[i].kind == kind)
      {
        *least = functions[i].least;
        *most = functions[i].most;
        return functions[i].name;
      }
  return NULL;
}

Node *
pawl_formula_node_new (NodeKind kind, guint place)
{
  Node *node = g_new0 (Node, 1);

  node->kind = kind;
  node->place = place;
  mpq_init (node->value);
  node->args = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_formula_node_free);
  return node;
}

void
pawl_formula_node_free (Node *node)
{
  mpq_clear (node->value);
  g_ptr_array_unref (node->args);
  g_free (node);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Node, pawl_formula_node_free)

gboolean
pawl_formula_fault (GError **error, PawlFormulaError code, guint place, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error (error, PAWL_FORMULA_ERROR, (int) code, "at character %u: %s", place, message);
  return FALSE;
}

/* ---- signs ---- */

static guint
get_place (const Reader *self)
{
  return (guint) g_utf8_pointer_to_offset (self->text, self->at) + 1;
}

static void
skip_spaces (Reader *self)
{
  while (g_unichar_isspace (g_utf8_get_char (self->at)))
    self->at = g_utf8_next_char (self->at);
}

/* Takes one of the signs of @sign, which are parted by spaces, when it stands next. */
static gboolean
take (Reader *self, const char *signs)
{
  g_auto(GStrv) all = g_strsplit (signs, " ", -1);

  skip_spaces (self);
  for (char **sign = all; *sign != NULL; sign++)
    if (g_str_has_prefix (self->at, *sign))
      {
        self->at += strlen (*sign);
        return TRUE;
      }
  return FALSE;
}

static gboolean
refuse (const Reader *self, const char *message)
{
  return pawl_formula_fault (self->error, PAWL_FORMULA_ERROR_SYNTAX, get_place (self), "%s", message);
}

static Node *
fault (const Reader *self, const char *message)
{
  refuse (self, message);
  return NULL;
}

/* ---- constants ---- */

static gboolean
is_unit_sign (gunichar sign)
{
  return g_unichar_isalpha (sign) || sign == 0x00b0 || sign == 0x00b5 || sign == '%'; /* ° µ */
}

static const char *
skip_unit_signs (const char *at)
{
  while (is_unit_sign (g_utf8_get_char (at)))
    at = g_utf8_next_char (at);
  return at;
}

/* The end of the word after the one that ends at @end, joined to it as in N·m, N m, N/mm; @end when there is none. */
static const char *
find_second_word (const char *end)
{
  const char *at = end;

  if (*at == ' ' || *at == '/' || *at == '*')
    at++;
  else if (g_str_has_prefix (at, "·"))
    at += strlen ("·");
  else
    return end;
  return skip_unit_signs (at);
}

static const PawlUnit *
look_up (const char *start, const char *end)
{
  g_autofree char *symbol = g_strndup (start, (gsize) (end - start));

  return start < end ? pawl_unit_lookup (symbol) : NULL;
}

/* (nullable): the unit that stands next, the longest that is one. */
static const PawlUnit *
take_unit (Reader *self)
{
  const char *start, *end, *second;
  const PawlUnit *unit;

  skip_spaces (self);
  start = self->at;
  end = skip_unit_signs (start);
  second = find_second_word (end);
  if (second > end && (unit = look_up (start, second)) != NULL)
    {
      self->at = second;
      return unit;
    }
  if ((unit = look_up (start, end)) != NULL)
    self->at = end;
  return unit;
}

static Node *
read_constant (Reader *self)
{
  g_autoptr(Node) node = pawl_formula_node_new (NODE_CONSTANT, get_place (self));
  gsize length = strspn (self->at, "0123456789");
  const PawlUnit *unit;
  mpq_t value;

  if (self->at[length] == '.')
    length += 1 + strspn (self->at + length + 1, "0123456789");
  if (length > PAWL_DIGITS_MAX)
    return fault (self, "a number of over 40 digits");
  if (length == 1 && *self->at == '.')
    return fault (self, "a digit should stand here");
  mpq_init (value);
  pawl_number_set_digits (value, self->at, length);
  self->at += length;
  unit = take_unit (self);
  if (unit != NULL)
    pawl_unit_to_base (unit, value, node->value);
  else
    mpq_set (node->value, value);
  mpq_clear (value);
  node->dimension = unit != NULL ? pawl_unit_get_dimension (unit) : PAWL_DIMENSION_NONE;
  return g_steal_pointer (&node);
}

/* ---- names ---- */

static const char *
skip_name (const char *at)
{
  while (g_ascii_isalnum (*at) || *at == '_' || (*at == '-' && (g_ascii_isalnum (at[1]) || at[1] == '_'))
         || (*at == '.' && (g_ascii_isalpha (at[1]) || at[1] == '_')))
    at++;
  return at;
}

static Node *
make_input (Reader *self, const char *name, guint place)
{
  Node *node = pawl_formula_node_new (NODE_INPUT, place);

  for (node->input = 0; node->input < self->used->len; node->input++)
    if (g_str_equal (self->used->pdata[node->input], name))
      return node;
  g_ptr_array_add (self->used, g_strdup (name));
  return node;
}

static Node *
make_pi (guint place)
{
  Node *node = pawl_formula_node_new (NODE_CONSTANT, place);

  mpq_set_d (node->value, G_PI);
  node->is_rounded = TRUE;
  return node;
}

static gboolean
read_arguments (Reader *self, Node *node)
{
  guint least = 0, most = 0;
  const char *name = pawl_formula_get_function (node->kind, &least, &most);

  do
    {
      Node *arg = read_sum (self);

      if (arg == NULL)
        return FALSE;
      g_ptr_array_add (node->args, arg);
    }
  while (take (self, ", ;"));
  if (!take (self, ")"))
    return refuse (self, "a bracket should close here, or a comma should part the next argument");
  if (node->args->len < least || (most > 0 && node->args->len > most))
    return pawl_formula_fault (self->error, PAWL_FORMULA_ERROR_SYNTAX, node->place, "%s() takes %s%u argument%s, not %u", name,
                               most == 0 ? "at least " : "", least, least == 1 ? "" : "s", node->args->len);
  return TRUE;
}

static Node *
read_call (Reader *self, const char *name, guint place)
{
  for (gsize i = 0; i < G_N_ELEMENTS (functions); i++)
    if (g_str_equal (functions[i].name, name))
      {
        g_autoptr(Node) node = pawl_formula_node_new (functions[i].kind, place);

        return read_arguments (self, node) ? g_steal_pointer (&node) : NULL;
      }
  pawl_formula_fault (self->error, PAWL_FORMULA_ERROR_NAME, place, "there is no function “%s”; there are min, max, mean, sum, spread, abs, sqrt, "
                      "sin, cos, tan, asin, acos, atan, arc and rad", name);
  return NULL;
}

static Node *
read_name (Reader *self)
{
  guint place = get_place (self);
  const char *end = skip_name (self->at);
  g_autofree char *name = g_strndup (self->at, (gsize) (end - self->at));

  self->at = end;
  if (take (self, "("))
    return read_call (self, name, place);
  if (g_strv_contains (self->known, name))
    return make_input (self, name, place);
  if (g_str_equal (name, "pi"))
    return make_pi (place);
  pawl_formula_fault (self->error, PAWL_FORMULA_ERROR_NAME, place, "“%s” is no reading of this procedure%s", name,
                      strchr (name, '-') != NULL ? "; a minus between two names has spaces round it" : "");
  return NULL;
}

/* ---- operators, from the tightest to the loosest ---- */

static Node *
read_operand (Reader *self)
{
  g_autoptr(Node) node = NULL;

  skip_spaces (self);
  if (g_ascii_isdigit (*self->at) || *self->at == '.')
    return read_constant (self);
  if (g_ascii_isalpha (*self->at) || *self->at == '_')
    return read_name (self);
  if (!take (self, "("))
    return fault (self, *self->at == '\0' ? "a name or a number should follow" : "a name, a number or a bracket should stand here");
  if ((node = read_sum (self)) == NULL)
    return NULL;
  return take (self, ")") ? g_steal_pointer (&node) : fault (self, "a bracket should close here");
}

static Node *
read_power (Reader *self)
{
  g_autoptr(Node) base = read_operand (self);
  g_autoptr(Node) node = NULL;

  if (base == NULL || !take (self, "^"))
    return g_steal_pointer (&base);
  skip_spaces (self);
  node = pawl_formula_node_new (NODE_POWER, get_place (self));
  if (!g_ascii_isdigit (*self->at) || g_ascii_isdigit (self->at[1]) || *self->at - '0' > PAWL_FORMULA_MAX_POWER || *self->at == '0')
    return fault (self, "a power is a whole number from 1 to 8");
  node->power = *self->at++ - '0';
  g_ptr_array_add (node->args, g_steal_pointer (&base));
  return g_steal_pointer (&node);
}

static Node *
read_sign (Reader *self)
{
  g_autoptr(Node) inner = NULL;
  Node *node;
  guint place;

  skip_spaces (self);
  place = get_place (self);
  if (!take (self, "- −"))
    return read_power (self);
  if (self->depth++ > PAWL_FORMULA_MAX_DEPTH)
    return fault (self, "more signs and brackets within one another than any formula needs");
  inner = read_sign (self);
  self->depth--;
  if (inner == NULL)
    return NULL;
  node = pawl_formula_node_new (NODE_NEGATE, place);
  g_ptr_array_add (node->args, g_steal_pointer (&inner));
  return node;
}

static Node *
join (NodeKind kind, guint place, Node *left, Node *right)
{
  Node *node = pawl_formula_node_new (kind, place);

  g_ptr_array_add (node->args, left);
  g_ptr_array_add (node->args, right);
  return node;
}

static Node *
read_product (Reader *self)
{
  g_autoptr(Node) left = read_sign (self);

  while (left != NULL)
    {
      NodeKind kind;
      guint place;
      Node *right;

      skip_spaces (self);
      place = get_place (self);
      if (take (self, "* × ·"))
        kind = NODE_MULTIPLY;
      else if (take (self, "/ ÷"))
        kind = NODE_DIVIDE;
      else
        break;
      if ((right = read_sign (self)) == NULL)
        return NULL;
      left = join (kind, place, g_steal_pointer (&left), right);
    }
  return g_steal_pointer (&left);
}

static Node *
read_sum (Reader *self)
{
  g_autoptr(Node) left = NULL;

  if (self->depth++ > PAWL_FORMULA_MAX_DEPTH)
    return fault (self, "more signs and brackets within one another than any formula needs");
  left = read_product (self);
  while (left != NULL)
    {
      NodeKind kind;
      guint place;
      Node *right;

      skip_spaces (self);
      place = get_place (self);
      if (take (self, "+"))
        kind = NODE_ADD;
      else if (take (self, "- −"))
        kind = NODE_SUBTRACT;
      else
        break;
      if ((right = read_product (self)) == NULL)
        return NULL;
      left = join (kind, place, g_steal_pointer (&left), right);
    }
  self->depth--;
  return g_steal_pointer (&left);
}

static gboolean
is_readable (const char *text, GError **error)
{
  if (g_utf8_validate (text, -1, NULL) && g_utf8_strlen (text, -1) <= PAWL_FORMULA_MAX_LENGTH)
    return TRUE;
  g_set_error (error, PAWL_FORMULA_ERROR, PAWL_FORMULA_ERROR_SYNTAX, "a formula is UTF-8 text of at most %d characters", PAWL_FORMULA_MAX_LENGTH);
  return FALSE;
}

PawlFormula *
pawl_formula_parse (const char *text, const char * const *names, GError **error)
{
  Reader reader = { .text = text, .at = text, .known = names, .error = error };
  g_autoptr(GPtrArray) used = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(Node) root = NULL;
  PawlFormula *self;

  g_return_val_if_fail (text != NULL && names != NULL, NULL);
  if (!is_readable (text, error))
    return NULL;
  reader.used = used;
  if ((root = read_sum (&reader)) == NULL)
    return NULL;
  skip_spaces (&reader);
  if (*reader.at != '\0')
    {
      refuse (&reader, "an operator should stand here: + - * / ^");
      return NULL;
    }
  self = g_new0 (PawlFormula, 1);
  g_atomic_ref_count_init (&self->ref_count);
  self->text = g_strdup (text);
  self->n_names = used->len;
  g_ptr_array_add (used, NULL);
  self->names = (char **) g_ptr_array_free (g_steal_pointer (&used), FALSE);
  self->root = g_steal_pointer (&root);
  return self;
}
