/*
 * The units, with exact factors to the base unit of their dimension.
 *
 * Source of factors: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s², as NIST SP 811 (2008), Appendix B (seen in
 * third-party copies of its list). Mercury and water columns are the conventional ones of SP 811 (mercury 13 595.1 kg/m³, water
 * 1000 kg/m³, standard gravity); inches of mercury "at 32 °F" and "at 60 °F" are other units, measured, which differ from the fourth digit on.
 */
#include "measure/pawl-unit-private.h"

#define POUND       "0.45359237"
#define GRAVITY     "9.80665"
#define INCH        "0.0254"
#define FOOT        "0.3048"
#define POUND_FORCE POUND "*" GRAVITY
#define MERCURY_MM  "13.5951*" GRAVITY
#define US_GALLON   "231*" INCH "*" INCH "*" INCH
#define IMP_GALLON  "0.00454609"

#define NONE       PAWL_DIMENSION_NONE
#define COUNT      PAWL_DIMENSION_COUNT
#define LENGTH     PAWL_DIMENSION_LENGTH
#define ANGLE      PAWL_DIMENSION_ANGLE
#define TIME       PAWL_DIMENSION_TIME
#define MASS       PAWL_DIMENSION_MASS
#define FORCE      PAWL_DIMENSION_FORCE
#define TORQUE     PAWL_DIMENSION_TORQUE
#define PRESSURE   PAWL_DIMENSION_PRESSURE
#define VOLUME     PAWL_DIMENSION_VOLUME
#define RESISTANCE PAWL_DIMENSION_RESISTANCE
#define CAPACITY   PAWL_DIMENSION_CAPACITANCE
#define HEAT       PAWL_DIMENSION_TEMPERATURE
#define HEAT_STEP  PAWL_DIMENSION_TEMPERATURE_DIFFERENCE
#define STIFFNESS  PAWL_DIMENSION_STIFFNESS
#define RATE       PAWL_DIMENSION_ROTATION_RATE
#define SPEED      PAWL_DIMENSION_SPEED
#define FLOW       PAWL_DIMENSION_FLOW
#define AREA       PAWL_DIMENSION_AREA
#define POWER      PAWL_DIMENSION_POWER
#define VOLTAGE    PAWL_DIMENSION_VOLTAGE
#define CURRENT    PAWL_DIMENSION_CURRENT
#define EXPANSION  PAWL_DIMENSION_EXPANSION

#define ANY        .system = PAWL_SYSTEM_NEITHER
#define IN         .system = PAWL_SYSTEM_INCH
#define SI         .system = PAWL_SYSTEM_METRIC

const PawlUnit pawl_units[] = {
  /* plain numbers: base 1 */
  { "ratio", NULL, NONE, ANY, .places = 3, .factor = "1", .words = "ratio" },
  { "%", NULL, NONE, ANY, .places = 1, .factor = "0.01", .words = "%|percent|per.cent|pct" },
  { "pieces", "piece", COUNT, ANY, .places = 0, .factor = "1", .words = "piece|pc|count" },
  { "teeth", "tooth", COUNT, ANY, .places = 0, .factor = "1", .words = "teeth|tooth" },

  /* length: base metre */
  { "m", NULL, LENGTH, SI, .places = 4, .factor = "1", .beside = "ft", .exact = "m", .words = "metre|meter" },
  { "cm", NULL, LENGTH, SI, .places = 3, .factor = "0.01", .beside = "in", .words = "cm|centimetre|centimeter" },
  { "mm", NULL, LENGTH, SI, .places = 3, .factor = "0.001", .beside = "in", .words = "mm|millimetre|millimeter" },
  { "µm", NULL, LENGTH, SI, .places = 1, .factor = "0.000001", .beside = "thou", .exact = "um", .words = "micron|micrometre|micrometer" },
  { "in", NULL, LENGTH, IN, .row = PAWL_ROW_FOOT, .places = 4, .factor = INCH, .beside = "mm", .exact = "\"|''", .words = "in|inch|inches" },
  { "ft", NULL, LENGTH, IN, .row = PAWL_ROW_FOOT, .places = 3, .factor = FOOT, .beside = "m", .words = "ft|foot|feet", .shared = "'" },
  { "thou", NULL, LENGTH, IN, .places = 2, .factor = INCH "/1000", .beside = "mm", .words = "thou|mil" },
  { "µin", NULL, LENGTH, IN, .places = 1, .factor = INCH "/1000000", .beside = "µm", .words = "uin|uinch|microinch|microinches" },

  /* angle: base degree */
  { "deg", NULL, ANGLE, ANY, .row = PAWL_ROW_ARC, .places = 2, .factor = "1", .words = "deg|degree" },
  { "arcmin", NULL, ANGLE, ANY, .row = PAWL_ROW_ARC, .places = 1, .factor = "1/60", .beside = "deg", .words = "arcmin|arc.minute", .shared = "'|min|minute" },
  { "arcsec", NULL, ANGLE, ANY, .row = PAWL_ROW_ARC, .places = 0, .factor = "1/3600", .beside = "deg", .words = "arcsec|arc.second", .shared = "\"|''|s|sec|second" },
  { "turns", "turn", ANGLE, ANY, .places = 3, .factor = "360", .beside = "deg", .words = "turn|rev|revolution" },
  { "flats", "flat", ANGLE, ANY, .places = 2, .factor = "60", .beside = "deg", .words = "flat" }, /* of a hexagon nut */

  /* time: base second */
  { "s", NULL, TIME, ANY, .row = PAWL_ROW_CLOCK, .places = 1, .factor = "1", .words = "s|sec|second" },
  { "min", NULL, TIME, ANY, .row = PAWL_ROW_CLOCK, .places = 1, .factor = "60", .words = "min|minute", .shared = "m" },
  { "h", NULL, TIME, ANY, .row = PAWL_ROW_CLOCK, .places = 2, .factor = "3600", .words = "h|hr|hour" },
  { "d", NULL, TIME, ANY, .row = PAWL_ROW_CLOCK, .places = 2, .factor = "86400", .words = "d|day" },
  { "weeks", "week", TIME, ANY, .row = PAWL_ROW_CLOCK, .places = 2, .factor = "604800", .words = "week|wk" },

  /* mass: base kilogram */
  { "mg", NULL, MASS, SI, .places = 1, .factor = "0.000001", .exact = "mg", .words = "milligram" },
  { "g", NULL, MASS, SI, .places = 2, .factor = "0.001", .beside = "oz", .words = "g|gram|gramme" },
  { "kg", NULL, MASS, SI, .places = 3, .factor = "1", .beside = "lb", .words = "kg|kilo|kilogram" },
  { "oz", NULL, MASS, IN, .row = PAWL_ROW_POUND, .places = 3, .factor = POUND "/16", .beside = "g", .words = "oz|ounce" },
  { "gr", NULL, MASS, IN, .places = 1, .factor = POUND "/7000", .beside = "g", .words = "gr|grain" },
  { "lb", NULL, MASS, IN, .row = PAWL_ROW_POUND, .places = 3, .factor = POUND, .beside = "kg", .words = "lb|pound" },

  /* force: base newton. A pull scale is marked in units of mass; where a force is expected they are taken as such. */
  { "N", NULL, FORCE, SI, .places = 2, .factor = "1", .beside = "lbf", .words = "n|newton" },
  { "kN", NULL, FORCE, SI, .places = 3, .factor = "1000", .beside = "lbf", .words = "kn|kilonewton" },
  { "gf", NULL, FORCE, SI, .places = 1, .factor = "0.001*" GRAVITY, .beside = "N", .words = "gf|gram.force", .shared = "g|gram|grams" },
  { "kgf", NULL, FORCE, SI, .places = 3, .factor = GRAVITY, .beside = "N", .words = "kgf|kg.force|kilogram.force", .shared = "kg|kilo" },
  { "ozf", NULL, FORCE, IN, .places = 2, .factor = POUND_FORCE "/16", .beside = "N", .words = "ozf|oz.force|ounce.force", .shared = "oz|ounce|ounces" },
  { "kip", NULL, FORCE, IN, .places = 3, .factor = "1000*" POUND_FORCE, .beside = "kN", .words = "kip" },
  { "lbf", NULL, FORCE, IN, .places = 2, .factor = POUND_FORCE, .beside = "N", .words = "lbf|lb.force|pound.force", .shared = "lb|lbs|pound|pounds" },

  /* torque: base newton metre */
  { "N m", NULL, TORQUE, SI, .places = 2, .factor = "1", .beside = "lbf·ft", .exact = "N.m|NM|n.M", .words = "newton.metre|newton.meter" },
  { "N cm", NULL, TORQUE, SI, .places = 1, .factor = "0.01", .beside = "lbf·in", .exact = "N.cm", .words = "newton.centimetre|newton.centimeter" },
  { "cN m", NULL, TORQUE, SI, .places = 1, .factor = "0.01", .beside = "lbf·in", .exact = "cN.m" },
  { "mN m", NULL, TORQUE, SI, .places = 1, .factor = "0.001", .beside = "ozf·in", .exact = "mN.m" },
  { "kgf m", NULL, TORQUE, SI, .places = 3, .factor = GRAVITY, .beside = "N m", .words = "kgf.m|kg.m|m.kgf|m.kg" },
  { "kgf cm", NULL, TORQUE, SI, .places = 2, .factor = GRAVITY "*0.01", .beside = "N m", .words = "kgf.cm|kg.cm|cm.kgf|cm.kg" },
  { "lbf·ft", NULL, TORQUE, IN, .places = 1, .factor = POUND_FORCE "*" FOOT, .beside = "N m",
    .words = "lbf.ft|lb.ft|lbs.ft|ft.lbf|ft.lb|pound.foot|pound.feet|foot.pound|pound.force.foot" },
  { "lbf·in", NULL, TORQUE, IN, .places = 1, .factor = POUND_FORCE "*" INCH, .beside = "N m",
    .words = "lbf.in|lb.in|lbs.in|in.lbf|in.lb|inch.lb|inch.pound|pound.inch|pound.force.inch" },
  { "ozf·in", NULL, TORQUE, IN, .places = 1, .factor = POUND_FORCE "/16*" INCH, .beside = "mN m",
    .words = "ozf.in|oz.in|in.ozf|in.oz|inch.ounce|ounce.inch|ounce.force.inch" },

  /* pressure: base pascal */
  { "Pa", NULL, PRESSURE, SI, .places = 0, .factor = "1", .beside = "psi", .words = "pa|pascal" },
  { "hPa", NULL, PRESSURE, SI, .places = 2, .factor = "100", .beside = "psi", .words = "hpa|hectopascal" },
  { "kPa", NULL, PRESSURE, SI, .places = 2, .factor = "1000", .beside = "psi", .words = "kpa|kilopascal" },
  { "MPa", NULL, PRESSURE, SI, .places = 3, .factor = "1000000", .beside = "psi", .exact = "MPa|MPA|Mpa", .words = "megapascal" },
  { "bar", NULL, PRESSURE, SI, .places = 3, .factor = "100000", .beside = "psi", .words = "bar" },
  { "mbar", NULL, PRESSURE, SI, .places = 1, .factor = "100", .beside = "psi", .words = "mbar|millibar" },
  { "GPa", NULL, PRESSURE, SI, .places = 1, .factor = "1000000000", .exact = "GPa|GPA|Gpa", .words = "gigapascal" },
  { "atm", NULL, PRESSURE, ANY, .places = 3, .factor = "101325", .beside = "kPa", .words = "atm|atmosphere" },
  { "Torr", NULL, PRESSURE, ANY, .places = 2, .factor = "101325/760", .beside = "kPa", .words = "torr" },
  { "kgf/cm²", NULL, PRESSURE, SI, .places = 3, .factor = GRAVITY "*10000", .beside = "psi", .words = "kgf/cm2|kg/cm2" },
  { "psi", NULL, PRESSURE, IN, .places = 2, .factor = POUND_FORCE "/" INCH "/" INCH, .beside = "kPa", .words = "psi|psig|lbf/in2|lb/in2|lb/sq.in" },
  { "inHg", NULL, PRESSURE, IN, .places = 2, .factor = MERCURY_MM "*25.4", .beside = "kPa", .words = "in.hg|inch.hg|inches.hg|\".hg|inches.of.mercury" },
  { "inHg at 32 °F", NULL, PRESSURE, IN, .places = 2, .factor = "3386.38", .beside = "kPa", .words = "in.hg.at.32.deg.f|in.hg.32.deg.f" },
  { "inHg at 60 °F", NULL, PRESSURE, IN, .places = 2, .factor = "3376.85", .beside = "kPa", .words = "in.hg.at.60.deg.f|in.hg.60.deg.f" },
  { "mmHg", NULL, PRESSURE, SI, .places = 1, .factor = MERCURY_MM, .beside = "kPa", .words = "mm.hg|millimetres.of.mercury" },
  { "inH2O", NULL, PRESSURE, IN, .places = 2, .factor = GRAVITY "*25.4", .beside = "kPa", .words = "in.h2o|inches.h2o|inches.of.water|\".h2o" },
  { "ftH2O", NULL, PRESSURE, IN, .places = 2, .factor = GRAVITY "*304.8", .beside = "kPa", .words = "ft.h2o|feet.of.water" },
  { "mmH2O", NULL, PRESSURE, SI, .places = 1, .factor = GRAVITY, .beside = "kPa", .words = "mm.h2o|millimetres.of.water" },

  /* volume: base cubic metre */
  { "mL", NULL, VOLUME, SI, .places = 1, .factor = "0.000001", .words = "ml|millilitre|milliliter" },
  { "cc", NULL, VOLUME, SI, .places = 1, .factor = "0.000001", .beside = "in³", .words = "cc|ccm" },
  { "cm³", NULL, VOLUME, SI, .places = 1, .factor = "0.000001", .beside = "in³", .words = "cm3|cu.cm" },
  { "m³", NULL, VOLUME, SI, .places = 6, .factor = "1", .words = "m3|cubic.metre|cubic.meter" },
  { "L", NULL, VOLUME, SI, .places = 3, .factor = "0.001", .words = "l|litre|liter" },
  { "gal US", NULL, VOLUME, IN, .places = 3, .factor = US_GALLON, .beside = "L", .words = "gal.us|us.gal|us.gallon", .shared = "gal|gallon|gallons" },
  { "gal imp", NULL, VOLUME, IN, .places = 3, .factor = IMP_GALLON, .beside = "L", .words = "gal.imp|imp.gal|gal.uk|imperial.gallon", .shared = "gal|gallon|gallons" },
  { "qt US", NULL, VOLUME, IN, .places = 3, .factor = US_GALLON "/4", .beside = "L", .words = "qt.us|us.qt|us.quart", .shared = "qt|quart|quarts" },
  { "qt imp", NULL, VOLUME, IN, .places = 3, .factor = IMP_GALLON "/4", .beside = "L", .words = "qt.imp|imp.qt|imperial.quart", .shared = "qt|quart|quarts" },
  { "pt US", NULL, VOLUME, IN, .places = 3, .factor = US_GALLON "/8", .beside = "mL", .words = "pt.us|us.pt|us.pint", .shared = "pt|pint|pints" },
  { "pt imp", NULL, VOLUME, IN, .places = 3, .factor = IMP_GALLON "/8", .beside = "mL", .words = "pt.imp|imp.pt|imperial.pint", .shared = "pt|pint|pints" },
  { "in³", NULL, VOLUME, IN, .places = 3, .factor = INCH "*" INCH "*" INCH, .beside = "cm³", .words = "in3|cu.in|cubic.inch|cubic.inches" },
  { "fl oz US", NULL, VOLUME, IN, .places = 2, .factor = US_GALLON "/128", .beside = "mL",
    .words = "fl.oz.us|us.fl.oz|us.fluid.ounce", .shared = "fl.oz|fluid.ounce|fluid.ounces" },
  { "fl oz imp", NULL, VOLUME, IN, .places = 2, .factor = IMP_GALLON "/160", .beside = "mL",
    .words = "fl.oz.imp|imp.fl.oz|fl.oz.imperial|imperial.fl.oz|fl.oz.uk|uk.fl.oz|imperial.fluid.ounce", .shared = "fl.oz|fluid.ounce|fluid.ounces" },

  /* resistance: base ohm; capacitance: base farad. Case tells milli from mega. */
  { "mΩ", NULL, RESISTANCE, ANY, .places = 1, .factor = "0.001", .exact = "mohm|mOhm", .words = "milliohm" },
  { "Ω", NULL, RESISTANCE, ANY, .places = 2, .factor = "1", .words = "ohm" },
  { "kΩ", NULL, RESISTANCE, ANY, .places = 3, .factor = "1000", .words = "kohm|kiloohm|kilohm" },
  { "MΩ", NULL, RESISTANCE, ANY, .places = 3, .factor = "1000000", .exact = "Mohm|MOhm", .words = "megohm|megaohm" },
  { "pF", NULL, CAPACITY, ANY, .places = 1, .factor = "0.000000000001", .beside = "nF", .words = "pf|picofarad" },
  { "nF", NULL, CAPACITY, ANY, .places = 1, .factor = "0.000000001", .beside = "µF", .words = "nf|nanofarad" },
  { "µF", NULL, CAPACITY, ANY, .places = 3, .factor = "0.000001", .words = "uf|mfd|microfarad" },

  /* temperature, a point on a scale: base kelvin. SP 811: t/°C = (t/°F - 32)/1.8 */
  { "K", NULL, HEAT, ANY, .places = 1, .factor = "1", .beside = "°C", .words = "k|kelvin" },
  { "°C", NULL, HEAT, SI, .places = 1, .factor = "1", .zero = "273.15", .beside = "°F", .words = "deg.c|c|degrees.c|celsius", .shared = "deg" },
  { "°F", NULL, HEAT, IN, .places = 1, .factor = "5/9", .zero = "459.67", .beside = "°C", .words = "deg.f|f|degrees.f|fahrenheit", .shared = "deg" },
  /* a difference of temperature: typed with Δ, or with "difference" or "rise" after it */
  { "ΔK", NULL, HEAT_STEP, ANY, .places = 1, .factor = "1", .words = "delta.k|k.difference|k.rise" },
  { "Δ°C", NULL, HEAT_STEP, SI, .places = 1, .factor = "1", .beside = "Δ°F", .words = "delta.deg.c|delta.c|deg.c.difference|deg.c.rise|c.difference" },
  { "Δ°F", NULL, HEAT_STEP, IN, .places = 1, .factor = "5/9", .beside = "Δ°C", .words = "delta.deg.f|delta.f|deg.f.difference|deg.f.rise|f.difference" },

  /* stiffness: base newton per metre */
  { "N/mm", NULL, STIFFNESS, SI, .places = 3, .factor = "1000", .beside = "lbf/in", .words = "n/mm" },
  { "N/m", NULL, STIFFNESS, SI, .places = 1, .factor = "1", .beside = "lbf/in", .words = "n/m" },
  { "lbf/in", NULL, STIFFNESS, IN, .places = 2, .factor = POUND_FORCE "/" INCH, .beside = "N/mm", .words = "lbf/in|lb/in|lbs/in" },

  /* rotation: base revolution per minute */
  { "rpm", NULL, RATE, ANY, .places = 0, .factor = "1", .words = "rpm|r/min|rev/min" },

  /* speed: base metre per second */
  { "mm/min", NULL, SPEED, SI, .places = 2, .factor = "0.001/60", .beside = "in/min", .words = "mm/min" },
  { "mm/s", NULL, SPEED, SI, .places = 2, .factor = "0.001", .beside = "in/s", .words = "mm/s|mm/sec" },
  { "m/s", NULL, SPEED, SI, .places = 2, .factor = "1", .beside = "ft/s", .words = "m/s|m/sec" },
  { "in/min", NULL, SPEED, IN, .places = 3, .factor = INCH "/60", .beside = "mm/min", .words = "in/min|ipm" },
  { "in/s", NULL, SPEED, IN, .places = 3, .factor = INCH, .beside = "mm/s", .words = "in/s|in/sec" },
  { "ft/s", NULL, SPEED, IN, .places = 2, .factor = FOOT, .beside = "m/s", .words = "ft/s|ft/sec" },

  /* flow: base cubic metre per second */
  { "mL/min", NULL, FLOW, SI, .places = 1, .factor = "0.000001/60", .words = "ml/min|cc/min|cm3/min" },
  { "L/min", NULL, FLOW, SI, .places = 2, .factor = "0.001/60", .beside = "gpm US", .words = "l/min|lpm" },
  { "L/h", NULL, FLOW, SI, .places = 1, .factor = "0.001/3600", .words = "l/h|l/hr" },
  { "gpm US", NULL, FLOW, IN, .places = 2, .factor = US_GALLON "/60", .beside = "L/min", .words = "gpm.us|us.gpm|gal.us/min|us.gal/min|us.gallon/min|gallons.us/min|us.gallons/min", .shared = "gpm|gal/min" },
  { "gpm imp", NULL, FLOW, IN, .places = 2, .factor = IMP_GALLON "/60", .beside = "L/min", .words = "gpm.imp|imp.gpm|gpm.uk|gal.imp/min|imp.gal/min|imperial.gallon/min|imperial.gallons/min", .shared = "gpm|gal/min" },

  /* area: base square metre */
  { "mm²", NULL, AREA, SI, .places = 2, .factor = "0.000001", .beside = "in²", .words = "mm2|sq.mm" },
  { "cm²", NULL, AREA, SI, .places = 3, .factor = "0.0001", .beside = "in²", .words = "cm2|sq.cm" },
  { "in²", NULL, AREA, IN, .places = 4, .factor = INCH "*" INCH, .beside = "mm²", .words = "in2|sq.in" },

  /* power: base watt. Horsepower of 550 ft lbf/s and the metric one of 75 m kgf/s are two units. */
  { "W", NULL, POWER, SI, .places = 1, .factor = "1", .words = "w|watt" },
  { "kW", NULL, POWER, SI, .places = 3, .factor = "1000", .beside = "hp", .words = "kw|kilowatt" },
  { "hp", NULL, POWER, IN, .places = 2, .factor = "550*" FOOT "*" POUND_FORCE, .beside = "kW", .words = "hp|bhp|horsepower" },
  { "PS", NULL, POWER, SI, .places = 2, .factor = "75*" GRAVITY, .beside = "kW", .words = "ps|metric.horsepower" },

  /* voltage: base volt; current: base ampere */
  { "mV", NULL, VOLTAGE, ANY, .places = 1, .factor = "0.001", .exact = "mV", .words = "millivolt" },
  { "V", NULL, VOLTAGE, ANY, .places = 2, .factor = "1", .words = "v|volt" },
  { "kV", NULL, VOLTAGE, ANY, .places = 2, .factor = "1000", .words = "kv|kilovolt" },
  { "µA", NULL, CURRENT, ANY, .places = 1, .factor = "0.000001", .words = "ua|microamp|microampere" },
  { "mA", NULL, CURRENT, ANY, .places = 1, .factor = "0.001", .exact = "mA", .words = "milliamp|milliampere" },
  { "A", NULL, CURRENT, ANY, .places = 2, .factor = "1", .words = "a|amp|ampere" },

  /* expansion: base share of the length per kelvin */
  { "ppm/K", NULL, EXPANSION, ANY, .places = 1, .factor = "0.000001", .words = "ppm/k|ppm/deg.c|ppm/c|um/m/k" },
  { "ppm/°F", NULL, EXPANSION, ANY, .places = 1, .factor = "0.000001*9/5", .words = "ppm/deg.f|ppm/f|uin/in/f|uin/in/deg.f" },
  { "/K", NULL, EXPANSION, ANY, .places = 8, .factor = "1", .beside = "ppm/K", .words = "/k|/kelvin|/deg.c" },
  { "/°F", NULL, EXPANSION, ANY, .places = 8, .factor = "9/5", .beside = "ppm/K", .words = "/deg.f" },
};

const gsize pawl_n_units = G_N_ELEMENTS (pawl_units);
