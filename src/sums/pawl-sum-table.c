/*
 * The bench sums. Each says where its formula comes from and where it holds; tests/sums holds them against figures from outside.
 */
#include "sums/pawl-sum-private.h"

#define QUANTITY(dimension_, name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_QUANTITY, .dimension = PAWL_DIMENSION_##dimension_, .fallback = fallback_, .example = example_ }
#define SIZE(dimension_, name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_QUANTITY, .dimension = PAWL_DIMENSION_##dimension_, .fallback = fallback_, .example = example_, \
    .range = PAWL_SUM_ABOVE_ZERO }
#define AMOUNT(dimension_, name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_QUANTITY, .dimension = PAWL_DIMENSION_##dimension_, .fallback = fallback_, .example = example_, \
    .range = PAWL_SUM_NOT_BELOW_ZERO }
#define SHARE(name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_QUANTITY, .dimension = PAWL_DIMENSION_NONE, .fallback = fallback_, .example = example_, \
    .range = PAWL_SUM_SHARE }
#define LIMITS(dimension_, name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_LIMITS, .dimension = PAWL_DIMENSION_##dimension_, .fallback = fallback_, .example = example_ }
#define LIST(name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_LIST, .dimension = PAWL_DIMENSION_LENGTH, .fallback = fallback_, .example = example_, \
    .range = PAWL_SUM_ABOVE_ZERO }

#define THREAD(name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_THREAD, .dimension = PAWL_DIMENSION_LENGTH, .fallback = fallback_, .example = example_, \
    .range = PAWL_SUM_ABOVE_ZERO }
#define MATERIAL(name_, title_, fallback_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_MATERIAL, .fallback = fallback_, .example = example_ }
/* A constant of the material that another input names, unless it is typed. */
#define CONSTANT(dimension_, name_, title_, material_, constant_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_QUANTITY, .dimension = PAWL_DIMENSION_##dimension_, .fallback = NULL, .example = example_, \
    .from = material_, .constant = PAWL_MATERIAL_##constant_, .range = PAWL_SUM_ABOVE_ZERO }
/* The diameter of the thread that another input names, unless it is typed. */
#define DIAMETER(name_, title_, thread_, example_) \
  { .name = name_, .title = title_, .kind = PAWL_SUM_QUANTITY, .dimension = PAWL_DIMENSION_LENGTH, .fallback = NULL, .example = example_, .from = thread_, \
    .range = PAWL_SUM_ABOVE_ZERO }

#define STEP TRUE
#define NEEDED NULL
#define MAY_BE_LEFT_OUT ""

/* Shared by the two answers of a press fit. */
#define LAME \
  "interference / (diameter * (((outside^2 + diameter^2) / (outside^2 - diameter^2) + hub-poisson) / hub-modulus" \
  " + ((diameter^2 + inside^2) / (diameter^2 - inside^2) - shaft-poisson) / shaft-modulus))"

/*
 * Of the bore that a thin plate leaves open: what is seen along the bore is a circle, in it the plate as an ellipse that is "seen" of it high, and the
 * shaft as a strip across both. While the ellipse lies behind the strip ("hidden" is 1) the strip alone blocks.
 */
#define OPEN_SHARE \
  "2 / pi * (pi / 2 - shaft / bore * sqrt(1 - (shaft / bore)^2) - rad(asin(shaft / bore))" \
  " - seen * (pi / 2 - hidden * sqrt(1 - hidden^2) - rad(asin(hidden))))"

/*
 * Turned over, a plate whose edges are bevelled for the shut angle φ stands on its far corners: they are A along the plate and t across it from one
 * another, A = D / cos φ + t tan φ, and bear on the bore when √(A² + t²) cos (ψ - atan (t/A)) is D.
 */
#define TURNED_OVER \
  "atan(thickness / (bore / cos(shut-angle) + thickness * tan(shut-angle)))" \
  " + acos(bore / sqrt((bore / cos(shut-angle) + thickness * tan(shut-angle))^2 + thickness^2))"

const PawlSum pawl_sums[] = {
  /* ---- bend, straighten, turn ---- */
  { .id = "bend", .title = "Bend a tang",
    .says = "How far a tang is moved, so that a point on the same lever comes to where it should be. Plus: the way that makes the reading larger. "
            "Bend only the tang that stops this movement, and measure again what hangs on the other one.",
    .source = "law of the lever; common practice, no source",
    .validity = "small movements: at 10° the tang is out by 1.5 %",
    .inputs = {
      QUANTITY (LENGTH, "reading", "Reading now", NEEDED, "35 mm"),
      QUANTITY (LENGTH, "wanted", "Reading wanted", NEEDED, "1 5/16 in"),
      SIZE (LENGTH, "pivot-to-tang", "Pivot to tang", NEEDED, "10 mm"),
      SIZE (LENGTH, "pivot-to-point", "Pivot to where it is measured", NEEDED, "40 mm") },
    .outputs = {
      { NULL, "Change of the reading", "wanted - reading", "=reading" },
      { NULL, "Move the tang by", "(wanted - reading) * pivot-to-tang / pivot-to-point", "=reading" },
      { NULL, "The lever turns by", "asin((wanted - reading) / pivot-to-point)", "deg" } } },
  { .id = "arm", .title = "Bend an arm at its root",
    .says = "How far the tip goes when the root is bent by an angle; or by how much to bend for a tip that is out of line.",
    .source = "right triangle; no source needed", .validity = "a straight arm, bent at one place",
    .inputs = {
      SIZE (LENGTH, "length", "Root to tip", NEEDED, "55 mm"),
      QUANTITY (ANGLE, "angle", "Bent by", MAY_BE_LEFT_OUT, "1.5 deg"),
      QUANTITY (LENGTH, "out", "Tip out of line by", MAY_BE_LEFT_OUT, "1.2 mm") },
    .outputs = {
      { NULL, "The tip moves by", "length * sin(angle)", "=length" },
      { NULL, "Bend by", "atan(out / length)", "deg" } } },
  { .id = "runout", .title = "Straighten a shaft",
    .says = "From the lowest and the highest reading of an indicator over one turn: how far the axis is off, and the high side is to be bent down.",
    .source = "total indicator reading is twice the eccentricity; common practice, no source", .validity = "a round shaft that is bent, not worn",
    .inputs = {
      QUANTITY (LENGTH, "lowest", "Lowest reading", "0 mm", "0.02 mm"),
      QUANTITY (LENGTH, "highest", "Highest reading", NEEDED, "0.11 mm") },
    .orders = { { "lowest", "highest", TRUE } },
    .outputs = {
      { NULL, "Total indicator reading", "highest - lowest", "=highest" },
      { NULL, "Bend the high side down by", "(highest - lowest) / 2", "=highest" } } },
  { .id = "turns", .title = "Turns of a screw",
    .says = "How far to turn for a change, or what a turn changes. With a rocker between screw and gap, its ratio: gap to screw.",
    .source = "one turn is one pitch",
    .validity = "single-start threads. Threads by name: M6, M6x0.75, 1/4-20, 1/4 UNC, #10-32, 20 tpi; or the pitch, 0.75 mm",
    .inputs = {
      THREAD ("pitch", "Thread, or its pitch", NEEDED, "M8x1.25"),
      QUANTITY (LENGTH, "change", "Change wanted", MAY_BE_LEFT_OUT, "0.3 mm"),
      QUANTITY (ANGLE, "turned", "Turned by", MAY_BE_LEFT_OUT, "1/4 turn"),
      SIZE (NONE, "rocker-ratio", "Gap changes by this much of the screw's way", "1", "1.4") },
    .outputs = {
      { NULL, "Turn by", "change / (pitch * rocker-ratio) * 1 turn", "turns" },
      { NULL, "Changes by", "turned / 1 turn * pitch * rocker-ratio", "=pitch" } } },

  /* ---- torque ---- */
  { .id = "torque", .title = "Torque through an adapter",
    .says = "What to set the wrench to when an adapter makes it longer, and what the fastener gets.",
    .source = "moment of the hand's force about the fastener; US Army TM 9-254, torque wrench with a straight extension. From 20 % of the scale on: "
              "common practice, no source",
    .validity = "hand in the middle of the grip, pulling square to the handle; an adapter at a right angle changes nothing",
    .inputs = {
      SIZE (LENGTH, "wrench", "Drive to the middle of the grip", NEEDED, "300 mm"),
      AMOUNT (LENGTH, "adapter", "Drive to fastener", "0 mm", "55 mm"),
      QUANTITY (ANGLE, "angle", "Adapter to handle (0: in line, making it longer)", "0 deg", "45 deg"),
      SIZE (TORQUE, "torque", "Torque wanted at the fastener", MAY_BE_LEFT_OUT, "24 N m"),
      SIZE (TORQUE, "setting", "Wrench set to", MAY_BE_LEFT_OUT, "20 N m"),
      SHARE ("error", "Permissible deviation of the wrench", MAY_BE_LEFT_OUT, "4 %"),
      SIZE (TORQUE, "scale", "Largest torque on its scale", MAY_BE_LEFT_OUT, "60 N m") },
    .solve = pawl_sum_solve_torque,
    .outputs = {
      { "set", "Set the wrench to", "torque * wrench / (wrench + adapter * cos(angle))", "=torque" },
      { NULL, "The fastener gets", "setting * (wrench + adapter * cos(angle)) / wrench", "=setting" },
      { NULL, "It may be as little as", "torque * (1 - error)", "=torque" },
      { NULL, "It may be as much as", "torque * (1 + error)", "=torque" } } },
  { .id = "clamp", .title = "Torque and clamp force",
    .says = "What a torque clamps with, what torque a clamp force wants, and the torque for a share of the bolt's yield strength.",
    .source = "T = K d F, J. E. Shigley, Mechanical Engineering Design, from memory. For the stress area see the sum “thread”",
    .validity = "an estimate: K is 0.20 dry and 0.15 oiled, give or take a quarter (common practice, no source); the book's torque goes before it",
    .inputs = {
      THREAD ("thread", "Thread", MAY_BE_LEFT_OUT, "M8"),
      DIAMETER ("diameter", "Thread diameter", "thread", "8 mm"),
      SIZE (NONE, "nut-factor", "K", "0.20", "0.15"),
      SIZE (TORQUE, "torque", "Torque", MAY_BE_LEFT_OUT, "24 N m"),
      SIZE (FORCE, "force", "Clamp force", MAY_BE_LEFT_OUT, "15 kN"),
      SIZE (AREA, "stress-area", "Stress area of the thread", MAY_BE_LEFT_OUT, "36.6 mm²"),
      SIZE (PRESSURE, "yield", "Yield strength", MAY_BE_LEFT_OUT, "640 MPa"),
      SHARE ("share", "Share of it to use", "75 %", "75 %") },
    .outputs = {
      { NULL, "It clamps with", "torque / (nut-factor * diameter)", "N" },
      { NULL, "It takes", "nut-factor * diameter * force", "N m" },
      { NULL, "Torque for that share", "nut-factor * diameter * share * yield * stress-area", "N m" } } },
  { .id = "thread", .title = "Sizes of a thread",
    .says = "Diameters of a thread by its name, its stress area, the hole to tap it in, and how full a thread a drilled hole leaves.",
    .source = "basic profile with H = √3/2 P: ISO 68-1, ISO 898-1 and ASME B1.1, from memory. The share of a full thread goes by 1.29904 P (American "
              "National form, most tap charts) or by 1.08253 P (Unified form)",
    .validity = "basic sizes of threads of 60°, before any tolerance",
    .inputs = {
      THREAD ("thread", "Thread, or its pitch", NEEDED, "M8"),
      DIAMETER ("diameter", "Thread diameter", "thread", "8 mm"),
      SHARE ("share", "Share of a full thread wanted", "75 %", "75 %"),
      SIZE (LENGTH, "hole", "Hole that is drilled", MAY_BE_LEFT_OUT, "6.8 mm") },
    .orders = { { "hole", "diameter", TRUE } },
    .solve = pawl_sum_solve_drill,
    .outputs = {
      { NULL, "Pitch", "thread", "=thread" },
      { NULL, "Threads in an inch", "1 in / thread", "ratio", .measures = PAWL_SUM_INCH },
      { NULL, "Major diameter", "diameter", "=thread" },
      { NULL, "Pitch diameter", "diameter - 3/8 * sqrt(3) * thread", "=thread" },
      { NULL, "Minor diameter of the nut", "diameter - 5/8 * sqrt(3) * thread", "=thread" },
      { NULL, "Root of the screw", "diameter - 17/24 * sqrt(3) * thread", "=thread", .measures = PAWL_SUM_METRIC },
      { NULL, "Root of the screw", "diameter - 11/16 * sqrt(3) * thread", "=thread", .measures = PAWL_SUM_INCH },
      { NULL, "Stress area", "pi / 4 * (diameter - 13/24 * sqrt(3) * thread)^2", "=thread²", .measures = PAWL_SUM_METRIC },
      { NULL, "Stress area", "pi / 4 * (diameter - 9/16 * sqrt(3) * thread)^2", "=thread²", .measures = PAWL_SUM_INCH },
      { NULL, "Hole to tap, by 1.08253 P", "diameter - 1.08253 * thread * share", "=thread" },
      { "tap-hole", "Hole to tap, by 1.29904 P", "diameter - 1.29904 * thread * share", "=thread" },
      { NULL, "The hole leaves a thread, by 1.29904 P, of", "(diameter - hole) / (1.29904 * thread)", "%" } } },
  { .id = "stretch", .title = "Stretch of a bolt",
    .says = "How much longer a bolt is under its clamp force, and the force of a stretch that was measured.",
    .source = "Hooke: stretch = force × length / (area × modulus)",
    .validity = "elastic, the part of the bolt between the faces, of one area; what lies in the nut and the thinner thread stretch too",
    .inputs = {
      SIZE (LENGTH, "length", "Length between the faces", NEEDED, "80 mm"),
      SIZE (AREA, "area", "Area of the bolt", NEEDED, "36.6 mm²"),
      MATERIAL ("bolt", "Bolt of", "steel", "steel"),
      CONSTANT (PRESSURE, "modulus", "Modulus of the bolt", "bolt", MODULUS, "207 GPa"),
      SIZE (FORCE, "force", "Clamp force", MAY_BE_LEFT_OUT, "15 kN"),
      SIZE (LENGTH, "stretch", "Stretch measured", MAY_BE_LEFT_OUT, "0.16 mm") },
    .outputs = {
      { NULL, "It stretches by", "force * length / (area * modulus)", "=length" },
      { NULL, "It clamps with", "stretch * area * modulus / length", "kN" } } },
  { .id = "stages", .title = "Torque in stages",
    .says = "The steps of a torque that is put on in several rounds.", .source = "common practice, no source", .validity = "where the book names none",
    .inputs = {
      SIZE (TORQUE, "torque", "Torque at the end", NEEDED, "27 N m"),
      SIZE (NONE, "stages", "Rounds, 2 to 6", "3", "3") },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_stages },

  /* ---- shims, blades ---- */
  { .id = "shim", .title = "Shims for a play",
    .says = "The fewest shims from those at hand that bring the play within its limits, and of those stacks the one nearest to the middle. Measure the "
            "play without shims, bearings seated; or say what is in, and the whole stack is worked out. A preload is a play below zero.",
    .source = "stack = gap - play; common practice, no source. The stack is the best of all there are",
    .validity = "shims that lie flat and clean; measure again once it is together",
    .inputs = {
      QUANTITY (LENGTH, "gap", "Play measured", NEEDED, "1.27 mm"),
      AMOUNT (LENGTH, "fitted", "Shims that are in already", "0 mm", "0.25 mm"),
      LIMITS (LENGTH, "limits", "Play wanted", NEEDED, "0.05..0.15 mm"),
      LIST ("sizes", "Shims at hand", MAY_BE_LEFT_OUT, "0.10 x4, 0.25 x2, 0.50 x any mm") },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_shims },
  { .id = "restack", .title = "Shims to change a play",
    .says = "The stack to put in for the one that is in, where more shims give more play. Where more shims take play away, give the play without them to "
            "“shim”.",
    .source = "new stack = old stack + play wanted - play now; common practice, no source. The stack is the best of all there are",
    .validity = "shims that lie flat and clean; measure again once it is together",
    .inputs = {
      QUANTITY (LENGTH, "play", "Play now", NEEDED, "0.31 mm"),
      SIZE (LENGTH, "stack", "Stack that is in", NEEDED, "1.30 mm"),
      LIMITS (LENGTH, "limits", "Play wanted", NEEDED, "0.05..0.15 mm"),
      LIST ("sizes", "Shims at hand", MAY_BE_LEFT_OUT, "0.10 x2, 0.20, 0.30, 0.50 mm") },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_restack },
  { .id = "blades", .title = "Feeler blades for a gap",
    .says = "The fewest blades of a set that make up a gap.", .source = "common practice, no source",
    .validity = "each blade more adds its error and a film of oil",
    .inputs = {
      SIZE (LENGTH, "gap", "Gap", NEEDED, "0.0315 in"),
      LIST ("sizes", "Blades", NEEDED, "0.05, 0.10, 0.15, 0.20, 0.50 mm") },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_blades },
  { .id = "lash", .title = "Shim of a valve",
    .says = "The shim that brings the clearance to what is wanted, and the nearest of those at hand.",
    .source = "new = old + measured - wanted; common practice, no source", .validity = "shim under the bucket or on it, cam lobe away",
    .inputs = {
      SIZE (LENGTH, "shim", "Shim that is in", NEEDED, "2.95 mm"),
      AMOUNT (LENGTH, "measured", "Clearance measured", NEEDED, "0.11 mm"),
      AMOUNT (LENGTH, "wanted", "Clearance wanted", NEEDED, "0.18 mm"),
      LIST ("sizes", "Shims at hand", MAY_BE_LEFT_OUT, "2.80, 2.85, 2.90, 2.95 mm") },
    .outputs = { { NULL, "Shim wanted", "shim + measured - wanted", "=shim" } },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_lash },

  /* ---- fits ---- */
  { .id = "fit", .title = "Hole and shaft",
    .says = "Largest and least clearance of two tolerances; below zero it is interference.", .source = "ISO 286-1, clause 3, from memory",
    .validity = "both at 20 °C",
    .inputs = {
      LIMITS (LENGTH, "hole", "Hole", NEEDED, "25.000..25.021 mm"),
      LIMITS (LENGTH, "shaft", "Shaft", NEEDED, "24.980..24.993 mm") },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_fit },
  { .id = "select", .title = "Which part in which place",
    .says = "Parts and bores of a set matched so that as many pairs as can be lie within the limits of the clearance, and of those ways the one "
            "that lies nearest to the middle in all.",
    .source = "assignment problem; H. W. Kuhn (1955), J. Munkres (1957). The best of all ways", .validity = "up to 30 parts",
    .inputs = {
      LIST ("parts", "Parts, in order", NEEDED, "78.93, 78.95, 78.94 mm"),
      LIST ("places", "Bores, in order", NEEDED, "79.01, 79.00, 79.02 mm"),
      LIMITS (LENGTH, "limits", "Clearance wanted", NEEDED, "0.060..0.080 mm") },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_select },
  { .id = "press", .title = "Press fit",
    .says = "Pressure between hub and shaft, the force that it takes to press them together or apart, and the stress in the hub's bore.",
    .source = "thick cylinders of Lamé; J. E. Shigley, Mechanical Engineering Design, from memory. Constants of the materials from memory",
    .validity = "elastic, hub as long as the fit, roughness not taken off. Keep the stress under the yield strength of the hub",
    .inputs = {
      SIZE (LENGTH, "diameter", "Diameter of the fit", NEEDED, "25 mm"),
      SIZE (LENGTH, "interference", "Interference, on the diameter", NEEDED, "0.02 mm"),
      SIZE (LENGTH, "outside", "Outside diameter of the hub", NEEDED, "45 mm"),
      AMOUNT (LENGTH, "inside", "Bore of the shaft", "0 mm", "10 mm"),
      SIZE (LENGTH, "length", "Length of the fit", MAY_BE_LEFT_OUT, "20 mm"),
      AMOUNT (NONE, "friction", "Friction", "0.12", "0.12"),
      MATERIAL ("hub", "Hub of", "steel", "cast iron"),
      MATERIAL ("shaft", "Shaft of", "steel", "steel"),
      CONSTANT (PRESSURE, "hub-modulus", "Modulus of the hub", "hub", MODULUS, "100 GPa"),
      CONSTANT (NONE, "hub-poisson", "Poisson's ratio of the hub", "hub", POISSON, "0.21"),
      CONSTANT (PRESSURE, "shaft-modulus", "Modulus of the shaft", "shaft", MODULUS, "207 GPa"),
      CONSTANT (NONE, "shaft-poisson", "Poisson's ratio of the shaft", "shaft", POISSON, "0.29") },
    .orders = { { "inside", "diameter" }, { "diameter", "outside" } },
    .outputs = {
      { "pressure", "Pressure in the fit", LAME, "MPa" },
      { NULL, "Force to press it", "friction * pressure * pi * diameter * length", "kN" },
      { NULL, "Stress in the hub's bore", "pressure * (outside^2 + diameter^2) / (outside^2 - diameter^2)", "MPa" },
      { NULL, "Torque that it holds", "friction * pressure * pi * diameter * length * diameter / 2", "N m" } } },
  { .id = "heat", .title = "Heat for a shrink fit",
    .says = "How warm the hub must be so that it drops on. The shaft may be cooled as well.",
    .source = "growth = diameter × expansion × rise. Expansion of the materials from memory",
    .validity = "hub warm all through. No open flame near oil or seals, gloves, and never over what hardened parts and bearings stand: 120 °C for "
                "most bearings, from memory; the maker's figure goes before it",
    .inputs = {
      SIZE (LENGTH, "diameter", "Diameter of the fit", NEEDED, "47 mm"),
      AMOUNT (LENGTH, "interference", "Interference, on the diameter", NEEDED, "0.025 mm"),
      AMOUNT (LENGTH, "clearance", "Room to drop it on", "0 mm", "0.05 mm"),
      MATERIAL ("hub", "Hub of", "steel", "aluminium"),
      CONSTANT (EXPANSION, "expansion", "Expansion of the hub", "hub", EXPANSION, "23 ppm/K"),
      QUANTITY (TEMPERATURE, "start", "Both are at", "20 °C", "68 °F") },
    .outputs = {
      { "rise", "Rise of temperature", "(interference + clearance) / (diameter * expansion)", "ΔK" },
      { NULL, "The hub must be at", "start + rise", "=start" } } },
  { .id = "clearance", .title = "Clearance",
    .says = "Bore less what runs in it; below zero it is interference.", .source = "difference of two sizes", .validity = "both at one temperature",
    .inputs = {
      SIZE (LENGTH, "bore", "Bore", NEEDED, "79.010 mm"),
      SIZE (LENGTH, "piston", "What runs in it", NEEDED, "78.935 mm") },
    .outputs = {
      { NULL, "Clearance on the diameter", "bore - piston", "=bore" },
      { NULL, "On one side", "(bore - piston) / 2", "=bore" } } },

  /* ---- openings ---- */
  { .id = "overlap", .title = "Two holes that don't quite meet",
    .says = "How much of a passage is open when a bushing with a cross hole was turned, and the largest wire that still passes.",
    .source = "area common to two circles, in closed form; no source needed", .validity = "round holes with their middles on one pitch circle",
    .inputs = {
      SIZE (LENGTH, "port", "Diameter of the port", NEEDED, "2.4 mm"),
      SIZE (LENGTH, "hole", "Diameter of the hole", NEEDED, "3 mm"),
      AMOUNT (LENGTH, "pitch-radius", "Axis to the middle of the holes", NEEDED, "9 mm"),
      QUANTITY (ANGLE, "turned", "Turned by", NEEDED, "12 deg") },
    .outputs = {
      { "apart", "Middles apart", "abs(2 * pitch-radius * sin(turned / 2))", "=port" },
      { NULL, "Largest wire that still passes", "max(0 mm, min((port + hole) / 2 - apart, port, hole))", "=port" } },
    .wants_points = TRUE,
    .solve = pawl_sum_solve_overlap },
  { .id = "plate", .title = "Throttle plate",
    .says = "Size of a plate that shuts at an angle, its gap and how much of the bore is open at another angle, and where it stands when it went in "
            "the wrong way round.",
    .source = "J. B. Heywood, Internal Combustion Engine Fundamentals (1988), open area of a throttle, from memory; geometry of an ellipse in a "
              "cylinder", .validity = "angles from square across the bore; a thin plate but where its thickness is given; leaks round the shaft not counted",
    .inputs = {
      SIZE (LENGTH, "bore", "Bore", NEEDED, "32 mm"),
      QUANTITY (ANGLE, "shut-angle", "Angle when shut", NEEDED, "7 deg"),
      AMOUNT (LENGTH, "shaft", "Shaft", "0 mm", "6 mm"),
      QUANTITY (ANGLE, "angle", "Angle asked about", MAY_BE_LEFT_OUT, "10 deg"),
      AMOUNT (LENGTH, "thickness", "Thickness of the plate", MAY_BE_LEFT_OUT, "1.5 mm") },
    .check = pawl_sum_check_plate,
    .orders = { { "shaft", "bore" }, { "shut-angle", "angle", TRUE } },
    .outputs = {
      { NULL, "Long axis of the plate", "bore / cos(shut-angle)", "=bore" },
      { "seen", "Height of the plate to the bore, as seen along it", "cos(angle) / cos(shut-angle)", "ratio", STEP },
      { NULL, "Gap at the edge, square to the bore", "bore / 2 * (1 - seen)", "=bore" },
      { "hidden", "Shaft to that height", "shaft / max(bore * seen, shaft, 0.001 mm)", "ratio", STEP },
      { "open", "Open share of the bore", OPEN_SHARE, "%" },
      { NULL, "Open area", "open * pi / 4 * bore^2", "=bore²" },
      { "turned", "Put in the other way round it stops at", TURNED_OVER, "deg" },
      { NULL, "and leaves a gap of about", "bore / 2 * (1 - cos(turned) / cos(shut-angle))", "=bore" } } },

  { .id = "passage", .title = "Area of a passage",
    .says = "What a hole that was opened up, or is worn, passes more; and what a needle in it leaves open.",
    .source = "areas of circles; no source needed", .validity = "areas: the flow follows them only roughly. Jets are replaced, never drilled",
    .inputs = {
      SIZE (LENGTH, "diameter", "Diameter of the hole", NEEDED, "1.25 mm"),
      SIZE (LENGTH, "was", "Diameter that it should have", MAY_BE_LEFT_OUT, "1.20 mm"),
      AMOUNT (LENGTH, "needle", "Needle in it", MAY_BE_LEFT_OUT, "0.90 mm") },
    .orders = { { "needle", "diameter" } },
    .outputs = {
      { NULL, "Area of the hole", "pi / 4 * diameter^2", "=diameter²" },
      { NULL, "Area against what it should be", "(diameter / was)^2", "%" },
      { NULL, "Open round the needle", "pi / 4 * (diameter^2 - needle^2)", "=diameter²" } } },

  /* ---- gears, timing, engine ---- */
  { .id = "backlash", .title = "Shims for a backlash",
    .says = "How far to move a gear along its axis. Plus: away from its mate. Measure the contact pattern again afterwards.",
    .source = "Δb = 2 Δs tan α sin δ, from memory", .validity = "near the middle of the mesh; cone angle 90° for gears whose centres move apart",
    .inputs = {
      AMOUNT (LENGTH, "backlash", "Backlash now, at the pitch circle", NEEDED, "0.22 mm"),
      AMOUNT (LENGTH, "wanted", "Backlash wanted", NEEDED, "0.15 mm"),
      QUANTITY (ANGLE, "pressure-angle", "Pressure angle", "20 deg", "20 deg"),
      QUANTITY (ANGLE, "cone-angle", "Pitch cone angle of the gear that is moved", NEEDED, "70 deg") },
    .outputs = { { NULL, "Move the gear by", "(wanted - backlash) / (2 * tan(pressure-angle) * sin(cone-angle))", "=backlash" } } },
  { .id = "arc", .title = "Timing mark on a rim",
    .says = "How far along the rim an angle is, and the angle of a mark.", .source = "L = π D θ / 360", .validity = "measured along the rim, not across",
    .inputs = {
      SIZE (LENGTH, "diameter", "Diameter of the rim", NEEDED, "180 mm"),
      QUANTITY (ANGLE, "angle", "Angle", MAY_BE_LEFT_OUT, "25 deg"),
      QUANTITY (LENGTH, "along", "Along the rim", MAY_BE_LEFT_OUT, "39.3 mm") },
    .outputs = {
      { NULL, "Along the rim", "arc(diameter / 2, angle)", "=diameter" },
      { NULL, "Straight across", "diameter * sin(angle / 2)", "=diameter" },
      { NULL, "Angle", "along / (pi * diameter) * 360 deg", "deg" } } },
  { .id = "piston", .title = "Piston at a crank angle",
    .says = "How far the piston is below top dead centre.", .source = "slider and crank, exact", .validity = "no offset of the pin",
    .inputs = {
      SIZE (LENGTH, "stroke", "Stroke", NEEDED, "54 mm"),
      SIZE (LENGTH, "rod", "Rod, centre to centre", NEEDED, "90 mm"),
      QUANTITY (ANGLE, "crank", "Crank from top dead centre", NEEDED, "25 deg") },
    .outputs = {
      { NULL, "Below top dead centre", "stroke / 2 * (1 - cos(crank)) + rod - sqrt(rod^2 - (stroke / 2 * sin(crank))^2)", "=stroke" } } },
  { .id = "compression", .title = "Compression",
    .says = "Ratio of volumes, and the lowest cylinder as a share of the highest.", .source = "definitions", .validity = "gauge pressures of one test",
    .inputs = {
      SIZE (VOLUME, "swept", "Swept volume", MAY_BE_LEFT_OUT, "148 cc"),
      SIZE (VOLUME, "left", "Volume left at the top", MAY_BE_LEFT_OUT, "24.5 cc"),
      AMOUNT (PRESSURE, "lowest", "Lowest cylinder", MAY_BE_LEFT_OUT, "110 psi"),
      SIZE (PRESSURE, "highest", "Highest cylinder", MAY_BE_LEFT_OUT, "125 psi") },
    .orders = { { "lowest", "highest", TRUE } },
    .outputs = {
      { NULL, "Compression ratio", "(swept + left) / left", "ratio" },
      { NULL, "Lowest by highest", "lowest / highest", "%" } } },
  { .id = "leak-down", .title = "Leak-down",
    .says = "Share of the pressure, or of the flow, that is lost.", .source = "(supply - held) / supply; common practice, no source",
    .validity = "both gauges at rest; the orifice of the tester belongs to the figure",
    .inputs = {
      SIZE (PRESSURE, "supply", "Supplied", MAY_BE_LEFT_OUT, "80 psi"),
      AMOUNT (PRESSURE, "held", "Held", MAY_BE_LEFT_OUT, "72 psi"),
      SIZE (FLOW, "free", "Flow without load", MAY_BE_LEFT_OUT, "40 L/min"),
      AMOUNT (FLOW, "loaded", "Flow under load", MAY_BE_LEFT_OUT, "37 L/min") },
    .orders = { { "held", "supply", TRUE }, { "loaded", "free", TRUE } },
    .outputs = {
      { NULL, "Leakage", "(supply - held) / supply", "%" },
      { NULL, "Loss of flow", "(free - loaded) / free", "%" } } },
  { .id = "ring", .title = "Ring gap",
    .says = "Least end gap by the size of the bore, and what a wider bore adds.", .source = "0.004 of the bore; common practice, no source",
    .validity = "air-cooled engines want more; the book goes before it",
    .inputs = {
      SIZE (LENGTH, "bore", "Bore", NEEDED, "3 in"),
      SIZE (NONE, "share", "Gap by bore", "0.004", "0.004"),
      QUANTITY (LENGTH, "wider", "Bore is wider by", MAY_BE_LEFT_OUT, "0.1 mm") },
    .outputs = {
      { NULL, "Least gap", "share * bore", "=bore" },
      { NULL, "The gap opens by", "pi * wider", "=wider" } } },

  /* ---- stock, springs, mixtures ---- */
  { .id = "stock", .title = "Stock to remove",
    .says = "What is left after lapping or skimming, and how far that is over the least.", .source = "difference of two sizes",
    .validity = "remove at least the largest gap under the straightedge",
    .inputs = {
      SIZE (LENGTH, "height", "Height now", NEEDED, "22.30 mm"),
      AMOUNT (LENGTH, "remove", "To remove", NEEDED, "0.08 mm"),
      AMOUNT (LENGTH, "least", "Least height", MAY_BE_LEFT_OUT, "22.15 mm") },
    .orders = { { "remove", "height" } },
    .outputs = {
      { NULL, "Height left", "height - remove", "=height" },
      { NULL, "Over the least by", "height - remove - least", "=height" } } },
  { .id = "gasket", .title = "Gasket when crushed",
    .says = "Thickness of a gasket once it is tightened.", .source = "common practice, no source", .validity = "the crush that its maker states",
    .inputs = {
      SIZE (LENGTH, "thickness", "New", NEEDED, "0.060 in"),
      SHARE ("crush", "Crush", NEEDED, "25 %") },
    .outputs = { { NULL, "Crushed", "thickness * (1 - crush)", "=thickness" } } },
  { .id = "spring", .title = "Spring",
    .says = "Force at a compression, or the rate from two loads.", .source = "Hooke", .validity = "a spring of one rate, coils not touching",
    .inputs = {
      SIZE (STIFFNESS, "rate", "Rate", MAY_BE_LEFT_OUT, "8 lbf/in"),
      QUANTITY (FORCE, "preload", "Force before", "0 N", "3.2 lbf"),
      AMOUNT (LENGTH, "pressed", "Compressed by", NEEDED, "1.25 in"),
      QUANTITY (FORCE, "force", "Force after", MAY_BE_LEFT_OUT, "13.2 lbf") },
    .outputs = {
      { NULL, "Force", "preload + rate * pressed", "=preload" },
      { NULL, "Rate", "(force - preload) / pressed", "N/mm" } } },
  { .id = "mixture", .title = "Oil in fuel",
    .says = "Oil for an amount of fuel.", .source = "fuel / ratio", .validity = "ratio of fuel to oil by volume",
    .inputs = {
      SIZE (VOLUME, "fuel", "Fuel", NEEDED, "5 L"),
      SIZE (NONE, "parts", "Parts of fuel to one of oil", NEEDED, "50") },
    .outputs = { { NULL, "Oil", "fuel / parts", "mL" } } },
};

const guint pawl_n_sums = G_N_ELEMENTS (pawl_sums);
