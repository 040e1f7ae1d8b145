#include "support/plan_sample.h"

#include <stdlib.h>
#include <string.h>

#define AT(h, m)         ((int64_t)(h)*3600 + (int64_t)(m)*60)
#define DAY_BEFORE(h, m) (AT(h, m) - 86400)
#define NONE             BP_NO_INDEX

enum { INES, RUI, MARTA };
enum { SOUP, SQUASH, CAKE };
enum { MAIN, SWEET };

static const bp_person persons[] = {
    {"ines", "Inês", false, {0, 2}},
    {"rui", "Rui", false, {2, 1}},
    {"marta", "Marta", true, {3, 1}},
};

static const bp_stint stints[] = {
    {INES, DAY_BEFORE(15, 0), DAY_BEFORE(16, 20), DAY_BEFORE(14, 30), DAY_BEFORE(18, 0)},
    {INES, AT(6, 40), AT(9, 20), AT(5, 30), AT(9, 30)},
    {RUI, AT(6, 0), AT(9, 16), AT(5, 30), AT(9, 30)},
    {MARTA, AT(7, 0), AT(7, 25), AT(6, 0), AT(7, 40)},
};

static const bp_rest rests[] = {{INES, AT(8, 42), AT(8, 57)}, {RUI, AT(6, 50), AT(7, 0)}};

static const bp_thing things[] = {
    {BP_BURNER, "burners", "burners", "", 3},
    {BP_OVEN, "deck", "deck oven", "", 3},
    {BP_TOOL, "blender", "stick blender", "", 1},
    {BP_VESSEL, "pot", "soup pot", "4 L", 5},
    {BP_VESSEL, "tray", "oven tray", "40 × 30 cm", 4},
    {BP_VESSEL, "tin", "cake tin", "⌀ 24 cm", 4},
    {BP_PLACE_HOT, "warmer", "hot cupboard", "", 6},
    {BP_PLACE_COLD, "fridge", "reach-in", "", 12},
    {BP_PLACE_COUNTER, "counter", "worktop", "", 0},
    {BP_SET, "main", "set: main", "", 0},
    {BP_SET, "sweet", "set: sweet", "", 0},
};

static const bp_dish dishes[] = {
    {"soup", "Red lentil soup", "A", "Red lentil and carrot soup", 4},
    {"squash", "Abóbora assada (roast squash)", "B", "Roast squash with pumpkin seeds", 4},
    {"cake", "Πορτοκαλόπιτα (orange filo cake)", "C",
     "Πορτοκαλόπιτα, orange cake of torn filo in a cinnamon syrup", 8},
};

/* Lists of indices are written as texts here: codes or ids with one blank between. */
typedef struct beat_row {
    const char *in, *out, *on;
    bp_beat b;
} beat_row;

#define HIT_1 AT(8, 24)
#define HIT_2 AT(9, 12)
#define BEAT(id_, text_, dish_, at, len, slot)                                                     \
    .id = id_, .text = text_, .dish = dish_, .from = (slot == 265 ? HIT_1 : HIT_2) + (at),         \
    .length = len, .time_in = at, .time_left = slot - (at) - (len)

static const beat_row beat_rows[] = {
    {"A4 B3",
     "",
     "A4 B3",
     {BEAT("hello", "Hosts welcome, both dishes on the counter", NONE, 0, 20, 265), .words = "",
      .station = "front", .least = 15, .likely = 20, .most = 25}},
    {"A1",
     "",
     "A1",
     {BEAT("pot-on", "Vegetables into the hot pot", SOUP, 20, 45, 265),
      .words = "Low heat, lid off, and let the carrots go sweet before anything else goes in. "
               "Devagar, sem pressa: ½ an onion is plenty.",
      .station = "stove", .least = 30, .likely = 40, .most = 50, .words_floor = true}},
    {"A2",
     "A1",
     "A2",
     {BEAT("lentils-in", "Lentils and stock go in, lid on", SOUP, 65, 38, 265), .words = "",
      .station = "stove", .least = 25, .likely = 35, .most = 40}},
    {"A3",
     "A2",
     "A3",
     {BEAT("blend", "Blend the cooked pot", SOUP, 103, 40, 265), .words = "", .station = "stove",
      .least = 25, .likely = 35, .most = 40}},
    {"",
     "",
     "",
     {.id = "croutons",
      .text = "Croûtons: rub the bread with garlic, oil, into the pan",
      .dish = SOUP,
      .words = "",
      .station = "stove",
      .least = 20,
      .likely = 30,
      .most = 45,
      .dropped = true}},
    {"B1",
     "A3",
     "B1",
     {BEAT("toss", "Toss the squash with oil and smoked paprika", SQUASH, 143, 42, 265),
      .words = "", .station = "counter", .least = 30, .likely = 40, .most = 45}},
    {"B2",
     "B1",
     "B2",
     {BEAT("seeds", "Roasted tray: seeds and yogurt on top", SQUASH, 185, 35, 265), .words = "",
      .station = "counter", .least = 25, .likely = 35, .most = 45}},
    {"A5",
     "B2",
     "A5 B3",
     {BEAT("taste", "Hosts taste both", NONE, 220, 30, 265), .words = "", .station = "front",
      .least = 25, .likely = 35, .most = 45, .taste = true}},
    {"",
     "",
     "A4",
     {BEAT("bye", "Where to find the recipes, close", SOUP, 250, 15, 265), .words = "",
      .station = "front", .least = 15, .likely = 20, .most = 20}},
    {"C1",
     "",
     "C1",
     {BEAT("hello", "Welcome back, the measured ingredients", CAKE, 0, 20, 210), .words = "",
      .station = "counter", .least = 15, .likely = 20, .most = 25}},
    {"",
     "",
     "C1",
     {BEAT("filo", "Tear the filo into the custard; the untidier the better", CAKE, 20, 50, 210),
      .words = "Tear it, do not cut it. Σκίζουμε το φύλλο με τα χέρια.", .station = "counter",
      .least = 30, .likely = 45, .most = 60}},
    {"C2",
     "C1",
     "C2",
     {BEAT("pour", "Hot from the oven: cold syrup over it", CAKE, 70, 45, 210),
      .words = "Hot cake, cold syrup. Never both hot.", .station = "counter", .least = 30,
      .likely = 40, .most = 60}},
    {"C3",
     "C2",
     "C3",
     {BEAT("slice", "The soaked cake: cut, first slice lifted", CAKE, 115, 35, 210), .words = "",
      .station = "front", .least = 25, .likely = 35, .most = 45}},
    {"C4",
     "",
     "C4",
     {BEAT("taste", "Hosts taste", NONE, 150, 40, 210), .words = "", .station = "front",
      .least = 25, .likely = 40, .most = 45, .taste = true}},
    {"",
     "",
     "C3",
     {BEAT("bye", "Close on the cake", CAKE, 190, 20, 210), .words = "", .station = "front",
      .least = 10, .likely = 15, .most = 20}},
};

static const bp_line lines[] = {
    {BP_LINE_GRAPHIC, "Two bowls for a cold morning", 4},
    {BP_LINE_SUPER, "1 1/2 cups red lentils, rinsed", 60},
};

static const bp_claim claims[] = {
    {2, "Red lentil soup", "good source of fiber", "fiber 5 g a serving, 18 % of the daily value",
     BP_YES, "at least 10 % of the daily value in 245 g", "21 CFR 101.54(c)(1)"},
    {2, "Red lentil soup", "low sodium", "sodium 300 mg a serving, 13 % of the daily value", BP_NO,
     "sodium at most 140 mg in 245 g; it has 245 mg", "21 CFR 101.61(b)(4)"},
    {5, "Abóbora assada (roast squash)", "low sugars", "", BP_UNSURE,
     "no threshold is published for low of it", ""},
};

static const bp_reply replies[] = {
    {MAIN, "Red lentil soup", "substitution", "Green lentils?", "Yes, twenty minutes longer.", 2},
    {SWEET, "", "other", "Who made this?", "Rui did.", 1},
};

static const bp_tease teases[] = {{AT(8, 11) + 30, 10, SQUASH, 8}};

static const bp_air airs[] = {
    {"main",
     "Dois pratos para uma manhã fria (two bowls for a cold morning)",
     1,
     1,
     HIT_1,
     265,
     AT(8, 19),
     240,
     "stove, then Roast squash, then all else",
     false,
     {0, 9},
     {0, 1},
     "Marta, Joel",
     "the floor manager",
     4,
     150,
     {0, 2},
     "every beat is at its longest",
     HIT_1 - 180,
     HIT_1 + 420,
     8,
     3,
     "B3 is not on the set yet",
     "A4 is past its best",
     false},
    {"sweet",
     "Something sweet: Πορτοκαλόπιτα",
     1,
     1,
     HIT_2,
     210,
     AT(9, 6),
     0,
     "",
     true,
     {9, 6},
     {0, 0},
     "Marta, Joel",
     "",
     3,
     150,
     {2, 0},
     "every beat is at its longest",
     BP_NO_TIME,
     BP_NO_TIME,
     NONE,
     NONE,
     "",
     "",
     false},
};

#define SIZE(text, num, den) .size = text, .size_num = num, .size_den = den
#define TIMES(set_by_, on_set_, needed_, last_)                                                    \
    .set_by = set_by_, .on_set = on_set_, .needed = needed_, .last = last_

static const bp_container containers[] = {
    {.code = "A1",
     .dish = SOUP,
     .air = MAIN,
     .stage = BP_RAW,
     .role = BP_ROLE_AIR,
     .state = "measured",
     .why = "beat 2 begins with raw vegetables",
     .station = "stove",
     SIZE("1/2", 1, 2),
     .allergens = "celery",
     .beat = 1,
     TIMES(AT(8, 19), AT(8, 16), HIT_1 + 20, HIT_1 + 65),
     .best_by = AT(12, 6),
     .use_by = BP_NO_TIME,
     .steps = 1},
    {.code = "A2",
     .dish = SOUP,
     .air = MAIN,
     .stage = BP_MID,
     .role = BP_ROLE_AIR,
     .state = "after: Sweat the vegetables in oil",
     .why = "the sweat takes 5 min, beat 2 gives it 45 s",
     .station = "stove",
     SIZE("1", 1, 1),
     .allergens = "celery",
     .beat = 2,
     TIMES(AT(8, 19), AT(8, 12), HIT_1 + 65, HIT_1 + 103),
     .best_by = AT(8, 30),
     .use_by = AT(12, 10),
     .steps = 3},
    {.code = "A3",
     .dish = SOUP,
     .air = MAIN,
     .stage = BP_MID,
     .role = BP_ROLE_AIR,
     .state = "after: Add lentils and stock, simmer",
     .why = "the simmer takes 15 min, beat 3 gives it 38 s",
     .station = "stove",
     SIZE("1", 1, 1),
     .allergens = "celery",
     .beat = 3,
     TIMES(AT(8, 19), AT(8, 14), HIT_1 + 103, HIT_1 + 143),
     .best_by = AT(8, 31),
     .use_by = AT(11, 51),
     .steps = 7},
    {.code = "A4",
     .dish = SOUP,
     .air = MAIN,
     .stage = BP_FINISHED,
     .role = BP_ROLE_BEAUTY,
     .state = "finished",
     .why = "the finished dish in front of the hosts",
     .station = "front",
     SIZE("1", 1, 1),
     .allergens = "celery",
     .beat = 0,
     TIMES(AT(8, 19), AT(8, 11), HIT_1, HIT_1 + 265),
     .best_by = AT(8, 36),
     .use_by = AT(11, 21),
     .steps = 15},
    {.code = "A5",
     .dish = SOUP,
     .air = MAIN,
     .stage = BP_FINISHED,
     .role = BP_ROLE_TASTE,
     .state = "finished",
     .why = "hosts, tasters and one more eat from it",
     .station = "front",
     SIZE("1", 1, 1),
     .allergens = "celery",
     .portions = 4,
     .beat = 7,
     TIMES(AT(8, 19), AT(8, 15), HIT_1 + 220, HIT_1 + 250),
     .best_by = AT(8, 40),
     .use_by = AT(11, 27),
     .steps = 15},
    {.code = "B1",
     .dish = SQUASH,
     .air = MAIN,
     .stage = BP_RAW,
     .role = BP_ROLE_AIR,
     .state = "measured",
     .why = "beat 5 tosses it raw",
     .station = "counter",
     SIZE("1/2", 1, 2),
     .allergens = "none named",
     .beat = 5,
     TIMES(AT(8, 19), AT(8, 17), HIT_1 + 143, HIT_1 + 185),
     .best_by = AT(8, 42),
     .use_by = BP_NO_TIME,
     .steps = 1},
    {.code = "B2",
     .dish = SQUASH,
     .air = MAIN,
     .stage = BP_MID,
     .role = BP_ROLE_AIR,
     .state = "after: Roast until the edges brown",
     .why = "the roast takes 25 min, beat 5 gives it 42 s",
     .station = "counter",
     SIZE("1", 1, 1),
     .allergens = "none named",
     .beat = 6,
     TIMES(AT(8, 19), AT(8, 18), HIT_1 + 185, HIT_1 + 220),
     .best_by = AT(8, 32),
     .use_by = AT(11, 46),
     .steps = 7},
    {.code = "B3",
     .dish = SQUASH,
     .air = MAIN,
     .stage = BP_FINISHED,
     .role = BP_ROLE_BEAUTY,
     .state = "finished",
     .why = "the finished dish in front of the hosts",
     .station = "front",
     SIZE("1", 1, 1),
     .allergens = "milk",
     .beat = 0,
     TIMES(AT(8, 19), AT(8, 10), HIT_1, HIT_1 + 265),
     .best_by = AT(8, 30),
     .use_by = AT(11, 46),
     .steps = 15},
    {.code = "B4",
     .dish = SQUASH,
     .air = MAIN,
     .stage = BP_FINISHED,
     .role = BP_ROLE_TEASE,
     .state = "finished",
     .why = "the tease at 08:11:30 shows it",
     .station = "front",
     SIZE("1", 1, 1),
     .allergens = "milk",
     .beat = NONE,
     TIMES(AT(8, 6), AT(8, 5), AT(8, 11) + 30, AT(8, 11) + 40),
     .best_by = AT(8, 25),
     .use_by = AT(11, 46),
     .steps = 15},
    {.code = "C1",
     .dish = CAKE,
     .air = SWEET,
     .stage = BP_RAW,
     .role = BP_ROLE_AIR,
     .state = "measured",
     .why = "beat 1 shows the measured ingredients",
     .station = "counter",
     SIZE("1/2", 1, 2),
     .allergens = "wheat, milk, eggs, cereals containing gluten",
     .beat = 9,
     TIMES(AT(9, 6), AT(8, 57), HIT_2, HIT_2 + 70),
     .best_by = AT(9, 30),
     .use_by = AT(10, 56)},
    {.code = "C2",
     .dish = CAKE,
     .air = SWEET,
     .stage = BP_MID,
     .role = BP_ROLE_AIR,
     .state = "after: Bake until golden",
     .why = "the bake takes 35 min, beat 2 gives it 50 s",
     .station = "counter",
     SIZE("1", 1, 1),
     .allergens = "wheat, milk, eggs, cereals containing gluten",
     .beat = 11,
     TIMES(AT(9, 6), AT(9, 1), HIT_2 + 70, HIT_2 + 115),
     .best_by = AT(9, 40),
     .use_by = AT(11, 5),
     .steps = 3},
    {.code = "C3",
     .dish = CAKE,
     .air = SWEET,
     .stage = BP_FINISHED,
     .role = BP_ROLE_BEAUTY,
     .state = "finished",
     .why = "the finished dish, cut on air",
     .station = "front",
     SIZE("1", 1, 1),
     .allergens = "wheat, milk, eggs, cereals containing gluten",
     .beat = 12,
     TIMES(AT(9, 6), AT(8, 59), HIT_2 + 115, HIT_2 + 210),
     .best_by = AT(10, 30),
     .use_by = AT(11, 5),
     .steps = 31},
    {.code = "C4",
     .dish = CAKE,
     .air = SWEET,
     .stage = BP_FINISHED,
     .role = BP_ROLE_TASTE,
     .state = "finished",
     .why = "hosts, tasters and one more eat from it",
     .station = "front",
     SIZE("1", 1, 1),
     .allergens = "wheat, milk, eggs, cereals containing gluten",
     .portions = 3,
     .beat = 13,
     TIMES(AT(9, 6), AT(9, 0), HIT_2 + 150, HIT_2 + 190),
     .best_by = AT(10, 30),
     .use_by = AT(11, 5),
     .steps = 31},
    {.code = "C5",
     .dish = CAKE,
     .air = SWEET,
     .stage = BP_FINISHED,
     .role = BP_ROLE_SPARE,
     .state = "finished",
     .why = "a spare finished cake was asked for",
     .station = "front",
     SIZE("1", 1, 1),
     .allergens = "wheat, milk, eggs, cereals containing gluten",
     .beat = NONE,
     TIMES(AT(9, 6), AT(9, 12), HIT_2 + 115, HIT_2 + 210),
     .best_by = AT(10, 30),
     .use_by = AT(12, 35),
     .late = 360,
     .steps = 31},
};

typedef struct op_row {
    bp_op_kind kind;
    const char *serves, *uses, *name, *text; /* name: last part of the key */
    uint32_t person, dish, air;
    int64_t from, to, off_least, off_most, hold_until;
    const char *detail, *caution, *oven, *core;
    int32_t oven_mC, core_mC;
} op_row;

#define HOT_400 .oven = "400 F", .oven_mC = 204444
#define HOT_350 .oven = "350 F", .oven_mC = 176667
#define CORE_74 .core = "74 C", .core_mC = 74000

static const op_row op_rows[] = {
    /* the afternoon before: the syrup */
    {BP_OP_ACTIVE, "C2 C3 C4 C5", "burners pot", "syrup",
     "Boil water, sugar, orange peel and a cinnamon stick until the sugar has gone, then 5 minutes "
     "more; do not stir, and keep water away from the pot",
     INES, CAKE, SWEET, DAY_BEFORE(15, 0), DAY_BEFORE(15, 20),
     .detail = "6 cups sugar\n4½ cups water\n3 oranges, peel of\n3 cinnamon sticks",
     .caution = "Hot sugar: it sticks and burns on. Long sleeves, no bare hands over the pot."},
    {BP_OP_PASSIVE, "C2 C3 C4 C5", "counter pot", "cool", "Cool the syrup, covered", NONE, CAKE,
     SWEET, DAY_BEFORE(15, 20), DAY_BEFORE(16, 10), .off_least = DAY_BEFORE(16, 0),
     .off_most = DAY_BEFORE(16, 20)},
    {BP_OP_ACTIVE, "C2 C3 C4 C5", "", "jar", "Jar the syrup and label it, into the reach-in", INES,
     CAKE, SWEET, DAY_BEFORE(16, 10), .to = DAY_BEFORE(16, 20)},
    {BP_OP_WAIT, "C2 C3 C4 C5", "fridge", "wait-syrup", "Syrup waits", NONE, CAKE, SWEET,
     DAY_BEFORE(16, 20), AT(7, 6), .hold_until = AT(10, 20)},

    /* the cake, first three tins */
    {BP_OP_PREHEAT, "C2 C3 C4", "deck", "heat", "Switch on the deck oven: 350 F", RUI, CAKE, SWEET,
     AT(6, 0), AT(6, 3), HOT_350},
    {BP_OP_ACTIVE, "C1 C2 C3 C4 C5", "", "custard", "Whisk eggs, yogurt, oil and orange zest", RUI,
     CAKE, SWEET, AT(6, 3), AT(6, 11),
     .detail = "20 eggs\n5 cups Greek yogurt (γιαούρτι)\n3¾ cups sunflower oil\n5 oranges, zest of",
     .caution = "Raw egg: wash hands and bowl after."},
    {BP_OP_MEASURE, "C1", "", "measure", "Measure the raw ingredients for C1", RUI, CAKE, SWEET,
     AT(6, 11), AT(6, 14), .detail = "250 g filo\n½ recipe custard\n1 tsp baking powder"},
    {BP_OP_WAIT, "C1", "fridge", "wait-raw", "C1 waits", NONE, CAKE, SWEET, AT(6, 14), AT(8, 56),
     .hold_until = AT(9, 30)},
    {BP_OP_ACTIVE, "C2 C3 C4 C5", "tin", "fill",
     "Tear the filo into strips, fold into the custard, fill the tins", RUI, CAKE, SWEET, AT(6, 14),
     AT(6, 26), .detail = "2 kg filo pastry\n4 tbsp baking powder\nbutter for the tins"},
    {BP_OP_LOAD, "C2 C3 C4", "deck tin", "bake/load", "Into the deck oven: bake", RUI, CAKE, SWEET,
     AT(6, 29), AT(6, 30), HOT_350, .caution = "Hot oven: dry gloves."},
    {BP_OP_OVEN, "C2", "deck tin", "bake", "Bake until golden", NONE, CAKE, SWEET, AT(6, 30),
     AT(7, 5), HOT_350, .off_least = AT(7, 5), .off_most = AT(7, 10)},
    {BP_OP_OVEN, "C3", "deck tin", "bake", "Bake until golden", NONE, CAKE, SWEET, AT(6, 30),
     AT(7, 5), HOT_350, .off_least = AT(7, 5), .off_most = AT(7, 10)},
    {BP_OP_OVEN, "C4", "deck tin", "bake", "Bake until golden", NONE, CAKE, SWEET, AT(6, 30),
     AT(7, 5), HOT_350, .off_least = AT(7, 5), .off_most = AT(7, 10)},
    {BP_OP_TAKE_OFF, "C2 C3 C4", "", "bake/off", "Out of the deck oven", RUI, CAKE, SWEET, AT(7, 5),
     AT(7, 6), .caution = "Hot oven: dry gloves."},
    {BP_OP_WAIT, "C2", "counter", "wait", "C2 waits", NONE, CAKE, SWEET, AT(7, 6), AT(9, 0),
     .hold_until = AT(9, 40)},
    {BP_OP_ACTIVE, "C3 C4", "", "pour", "Pour the cold syrup over the hot cake", RUI, CAKE, SWEET,
     AT(7, 6), AT(7, 9), .detail = "3 cups syrup a cake", .caution = "Steam rises from the tin."},
    {BP_OP_PREHEAT, "B2 B3 B4", "deck", "heat", "Deck oven from 350 F up to 400 F", RUI, SQUASH,
     MAIN, AT(7, 9), AT(7, 11), HOT_400},
    {BP_OP_PASSIVE, "C3 C4", "counter", "soak", "Leave the cake to drink the syrup", NONE, CAKE,
     SWEET, AT(7, 9), AT(7, 39), .off_least = AT(7, 39), .off_most = AT(9, 9)},
    {BP_OP_WAIT, "C3", "counter", "wait", "C3 waits", NONE, CAKE, SWEET, AT(7, 39), AT(8, 58),
     .hold_until = AT(10, 30)},
    {BP_OP_WAIT, "C4", "counter", "wait", "C4 waits", NONE, CAKE, SWEET, AT(7, 39), AT(8, 59),
     .hold_until = AT(10, 30)},

    /* the squash */
    {BP_OP_ACTIVE, "B1 B2 B3 B4", "", "cube", "Peel and cube the squash, 2 cm", RUI, SQUASH, MAIN,
     AT(6, 30), AT(6, 42), .detail = "3½ kg butternut squash (abóbora-manteiga)",
     .caution = "Knife: the squash rolls; halve it first."},
    {BP_OP_MEASURE, "B1", "", "measure", "Measure the raw ingredients for B1", RUI, SQUASH, MAIN,
     AT(6, 42), AT(6, 45), .detail = "500 g squash cubes\n1 tbsp olive oil\n½ tsp smoked paprika"},
    {BP_OP_WAIT, "B1", "counter", "wait-raw", "B1 waits", NONE, SQUASH, MAIN, AT(6, 45), AT(8, 16),
     .hold_until = AT(8, 42)},
    {BP_OP_ACTIVE, "B2 B3 B4", "tray", "oil", "Toss with oil and smoked paprika", RUI, SQUASH, MAIN,
     AT(7, 12), AT(7, 15), .detail = "6 tbsp olive oil\n3 tsp smoked paprika"},
    {BP_OP_LOAD, "B2 B3 B4", "deck tray", "roast/load", "Into the deck oven: roast", RUI, SQUASH,
     MAIN, AT(7, 19), AT(7, 20), HOT_400, .caution = "Hot oven: dry gloves."},
    {BP_OP_OVEN, "B2", "deck tray", "roast", "Roast until the edges brown", NONE, SQUASH, MAIN,
     AT(7, 20), AT(7, 46), HOT_400, .off_least = AT(7, 45), .off_most = AT(7, 48)},
    {BP_OP_OVEN, "B3", "deck tray", "roast", "Roast until the edges brown", NONE, SQUASH, MAIN,
     AT(7, 20), AT(7, 46), HOT_400, .off_least = AT(7, 45), .off_most = AT(7, 48)},
    {BP_OP_OVEN, "B4", "deck tray", "roast", "Roast until the edges brown", NONE, SQUASH, MAIN,
     AT(7, 20), AT(7, 46), HOT_400, .off_least = AT(7, 45), .off_most = AT(7, 48)},
    {BP_OP_TAKE_OFF, "B2 B3 B4", "", "roast/off", "Out of the deck oven", RUI, SQUASH, MAIN,
     AT(7, 46), AT(7, 47), .caution = "Hot oven: dry gloves."},
    {BP_OP_WAIT, "B2", "warmer", "wait", "B2 waits", NONE, SQUASH, MAIN, AT(7, 47), AT(8, 17),
     .hold_until = AT(8, 32)},
    {BP_OP_ACTIVE, "B3 B4", "", "dress", "Scatter seeds, dress with yogurt", RUI, SQUASH, MAIN,
     AT(7, 47), AT(7, 50), .detail = "6 tbsp pumpkin seeds\n1 cup yogurt"},
    {BP_OP_WAIT, "B3", "warmer", "wait", "B3 waits", NONE, SQUASH, MAIN, AT(7, 50), AT(8, 9),
     .hold_until = AT(8, 35)},
    {BP_OP_WAIT, "B4", "warmer", "wait", "B4 waits", NONE, SQUASH, MAIN, AT(7, 50), AT(8, 4),
     .hold_until = AT(8, 35)},

    /* the spare cake, which is late */
    {BP_OP_PREHEAT, "C5", "deck", "heat", "Deck oven from 400 F down to 350 F", RUI, CAKE, SWEET,
     AT(7, 50), AT(7, 51), HOT_350},
    {BP_OP_WAIT, "C5", "fridge tin", "wait-filled", "C5 waits", NONE, CAKE, SWEET, AT(6, 26),
     AT(7, 59), .hold_until = AT(8, 26)},
    {BP_OP_LOAD, "C5", "deck tin", "bake/load", "Into the deck oven: bake", RUI, CAKE, SWEET,
     AT(7, 59), AT(8, 0), HOT_350, .caution = "Hot oven: dry gloves."},
    {BP_OP_OVEN, "C5", "deck tin", "bake", "Bake until golden", NONE, CAKE, SWEET, AT(8, 0),
     AT(8, 35), HOT_350, .off_least = AT(8, 35), .off_most = AT(8, 40)},
    {BP_OP_TAKE_OFF, "C5", "", "bake/off", "Out of the deck oven", INES, CAKE, SWEET, AT(8, 35),
     AT(8, 36), .caution = "Hot oven: dry gloves."},
    {BP_OP_ACTIVE, "C5", "", "pour", "Pour the cold syrup over the hot cake", INES, CAKE, SWEET,
     AT(8, 36), AT(8, 37), .detail = "3 cups syrup", .caution = "Steam rises from the tin."},
    {BP_OP_PASSIVE, "C5", "counter", "soak", "Leave the cake to drink the syrup", NONE, CAKE, SWEET,
     AT(8, 37), AT(9, 11), .off_least = AT(9, 7), .off_most = AT(10, 37)},

    /* the soup */
    {BP_OP_ACTIVE, "A1 A2 A3 A4 A5", "", "chop", "Dice the carrots and onion", INES, SOUP, MAIN,
     AT(6, 40), AT(7, 0), .detail = "1.8 kg carrots\n4½ onions",
     .caution = "Knife: dry board, damp cloth under it."},
    {BP_OP_MEASURE, "A1", "", "measure", "Measure the raw ingredients for A1", INES, SOUP, MAIN,
     AT(7, 0), AT(7, 4),
     .detail = "200 g diced carrots\n½ onion, diced\n1 tbsp olive oil\n¾ cup red lentils, rinsed"},
    {BP_OP_WAIT, "A1", "counter", "wait-raw", "A1 waits", NONE, SOUP, MAIN, AT(7, 4), AT(8, 15),
     .hold_until = AT(9, 0)},
    {BP_OP_ACTIVE, "A4", "burners pot", "sweat", "Sweat the vegetables in oil", MARTA, SOUP, MAIN,
     AT(7, 0), AT(7, 5), .detail = "2 tbsp olive oil", .caution = "Hot oil."},
    {BP_OP_PASSIVE, "A4", "burners pot", "simmer", "Add lentils and stock, simmer", NONE, SOUP,
     MAIN, AT(7, 5), AT(7, 21), .off_least = AT(7, 20), .off_most = AT(7, 23), CORE_74,
     .detail = "1½ cup red lentils, rinsed\n1 L vegetable stock"},
    {BP_OP_TAKE_OFF, "A4", "", "simmer/off", "Off the burner", MARTA, SOUP, MAIN, AT(7, 21),
     .to = AT(7, 22)},
    {BP_OP_ACTIVE, "A4", "blender", "blend", "Blend until smooth, season", MARTA, SOUP, MAIN,
     AT(7, 22), AT(7, 25),
     .caution = "Hot liquid in a blender: never fill past half, hold the lid with a cloth."},
    {BP_OP_WAIT, "A4", "warmer pot", "wait", "A4 waits", NONE, SOUP, MAIN, AT(7, 25), AT(8, 10),
     .hold_until = AT(8, 25)},
    {BP_OP_ACTIVE, "A5", "burners pot", "sweat", "Sweat the vegetables in oil", INES, SOUP, MAIN,
     AT(7, 6), AT(7, 11), .detail = "2 tbsp olive oil", .caution = "Hot oil."},
    {BP_OP_PASSIVE, "A5", "burners pot", "simmer", "Add lentils and stock, simmer", NONE, SOUP,
     MAIN, AT(7, 11), AT(7, 27), .off_least = AT(7, 26), .off_most = AT(7, 29), CORE_74,
     .detail = "1½ cup red lentils, rinsed\n1 L vegetable stock"},
    {BP_OP_TAKE_OFF, "A5", "", "simmer/off", "Off the burner", INES, SOUP, MAIN, AT(7, 27),
     .to = AT(7, 28)},
    {BP_OP_ACTIVE, "A5", "blender", "blend", "Blend until smooth, season", INES, SOUP, MAIN,
     AT(7, 28), AT(7, 31),
     .caution = "Hot liquid in a blender: never fill past half, hold the lid with a cloth."},
    {BP_OP_WAIT, "A5", "warmer pot", "wait", "A5 waits", NONE, SOUP, MAIN, AT(7, 31), AT(8, 14),
     .hold_until = AT(8, 31)},
    {BP_OP_ACTIVE, "A3", "burners pot", "sweat", "Sweat the vegetables in oil", INES, SOUP, MAIN,
     AT(7, 31), AT(7, 36), .detail = "2 tbsp olive oil", .caution = "Hot oil."},
    {BP_OP_PASSIVE, "A3", "burners pot", "simmer", "Add lentils and stock, simmer", NONE, SOUP,
     MAIN, AT(7, 36), AT(7, 52), .off_least = AT(7, 51), .off_most = AT(7, 54), CORE_74,
     .detail = "1½ cup red lentils, rinsed\n1 L vegetable stock"},
    {BP_OP_TAKE_OFF, "A3", "", "simmer/off", "Off the burner", INES, SOUP, MAIN, AT(7, 52),
     .to = AT(7, 53)},
    {BP_OP_WAIT, "A3", "warmer pot", "wait", "A3 waits", NONE, SOUP, MAIN, AT(7, 53), AT(8, 13),
     .hold_until = AT(8, 33)},
    {BP_OP_ACTIVE, "A2", "burners pot", "sweat", "Sweat the vegetables in oil", INES, SOUP, MAIN,
     AT(8, 5), AT(8, 10), .detail = "2 tbsp olive oil", .caution = "Hot oil."},
    {BP_OP_WAIT, "A2", "counter pot", "wait", "A2 waits", NONE, SOUP, MAIN, AT(8, 10), AT(8, 11),
     .hold_until = AT(8, 20)},

    /* to the set */
    {BP_OP_CARRY, "B4", "main", "carry", "Carry B4 to the set: front", RUI, SQUASH, MAIN, AT(8, 4),
     .to = AT(8, 5)},
    {BP_OP_SET, "B4", "main", "set", "B4 on the set", NONE, SQUASH, MAIN, AT(8, 5), AT(8, 11) + 40,
     .hold_until = AT(8, 25)},
    {BP_OP_CARRY, "B3", "main", "carry", "Carry B3 to the set: front", RUI, SQUASH, MAIN, AT(8, 9),
     .to = AT(8, 10)},
    {BP_OP_SET, "B3", "main", "set", "B3 on the set", NONE, SQUASH, MAIN, AT(8, 10), HIT_1 + 265,
     .hold_until = AT(8, 30)},
    {BP_OP_CARRY, "A4", "main", "carry", "Carry A4 to the set: front", RUI, SOUP, MAIN, AT(8, 10),
     .to = AT(8, 11)},
    {BP_OP_SET, "A4", "main", "set", "A4 on the set", NONE, SOUP, MAIN, AT(8, 11), HIT_1 + 265,
     .hold_until = AT(8, 36)},
    {BP_OP_CARRY, "A2", "main", "carry", "Carry A2 to the set: stove", INES, SOUP, MAIN, AT(8, 11),
     .to = AT(8, 12)},
    {BP_OP_SET, "A2", "main", "set", "A2 on the set", NONE, SOUP, MAIN, AT(8, 12), HIT_1 + 103,
     .hold_until = AT(8, 30)},
    {BP_OP_CARRY, "A3", "main", "carry", "Carry A3 to the set: stove", INES, SOUP, MAIN, AT(8, 13),
     .to = AT(8, 14)},
    {BP_OP_SET, "A3", "main", "set", "A3 on the set", NONE, SOUP, MAIN, AT(8, 14), HIT_1 + 143,
     .hold_until = AT(8, 31)},
    {BP_OP_CARRY, "A5", "main", "carry", "Carry A5 to the set: front", INES, SOUP, MAIN, AT(8, 14),
     .to = AT(8, 15)},
    {BP_OP_SET, "A5", "main", "set", "A5 on the set", NONE, SOUP, MAIN, AT(8, 15), HIT_1 + 250,
     .hold_until = AT(8, 40)},
    {BP_OP_CARRY, "A1", "main", "carry", "Carry A1 to the set: stove", INES, SOUP, MAIN, AT(8, 15),
     .to = AT(8, 16)},
    {BP_OP_SET, "A1", "main", "set", "A1 on the set", NONE, SOUP, MAIN, AT(8, 16), HIT_1 + 65,
     .hold_until = AT(9, 0)},
    {BP_OP_CARRY, "B1", "main", "carry", "Carry B1 to the set: counter", RUI, SQUASH, MAIN,
     AT(8, 16), .to = AT(8, 17)},
    {BP_OP_SET, "B1", "main", "set", "B1 on the set", NONE, SQUASH, MAIN, AT(8, 17), HIT_1 + 185,
     .hold_until = AT(8, 42)},
    {BP_OP_CARRY, "B2", "main", "carry", "Carry B2 to the set: counter", RUI, SQUASH, MAIN,
     AT(8, 17), .to = AT(8, 18)},
    {BP_OP_SET, "B2", "main", "set", "B2 on the set", NONE, SQUASH, MAIN, AT(8, 18), HIT_1 + 220,
     .hold_until = AT(8, 32)},
    {BP_OP_STAND_BY, "", "main", "stand-by/1", "Stand by on the set: main", RUI, NONE, MAIN,
     AT(8, 24), .to = AT(8, 29)},
    {BP_OP_RESET, "", "main", "reset", "Clear the set for: Something sweet", INES, NONE, SWEET,
     AT(8, 29), .to = AT(8, 33)},
    {BP_OP_CARRY, "C1", "sweet", "carry", "Carry C1 to the set: counter", RUI, CAKE, SWEET,
     AT(8, 56), .to = AT(8, 57)},
    {BP_OP_SET, "C1", "sweet", "set", "C1 on the set", NONE, CAKE, SWEET, AT(8, 57), HIT_2 + 70,
     .hold_until = AT(9, 30)},
    {BP_OP_CARRY, "C3", "sweet", "carry", "Carry C3 to the set: front", RUI, CAKE, SWEET, AT(8, 58),
     .to = AT(8, 59)},
    {BP_OP_SET, "C3", "sweet", "set", "C3 on the set", NONE, CAKE, SWEET, AT(8, 59), HIT_2 + 210,
     .hold_until = AT(10, 30)},
    {BP_OP_CARRY, "C4", "sweet", "carry", "Carry C4 to the set: front", RUI, CAKE, SWEET, AT(8, 59),
     .to = AT(9, 0)},
    {BP_OP_SET, "C4", "sweet", "set", "C4 on the set", NONE, CAKE, SWEET, AT(9, 0), HIT_2 + 190,
     .hold_until = AT(10, 30)},
    {BP_OP_CARRY, "C2", "sweet", "carry", "Carry C2 to the set: counter", RUI, CAKE, SWEET,
     AT(9, 0), .to = AT(9, 1)},
    {BP_OP_SET, "C2", "sweet", "set", "C2 on the set", NONE, CAKE, SWEET, AT(9, 1), HIT_2 + 115,
     .hold_until = AT(9, 40)},
    {BP_OP_CARRY, "C5", "sweet", "carry", "Carry C5 to the set: front", INES, CAKE, SWEET,
     AT(9, 11), .to = AT(9, 12)},
    {BP_OP_SET, "C5", "sweet", "set", "C5 on the set", NONE, CAKE, SWEET, AT(9, 12), HIT_2 + 210,
     .hold_until = AT(10, 30)},
    {BP_OP_STAND_BY, "", "sweet", "stand-by/2", "Stand by on the set: sweet", RUI, NONE, SWEET,
     AT(9, 12), .to = AT(9, 16)},
};

#define ROWS(list) ((uint32_t)(sizeof(list) / sizeof *(list)))

static const bp_good goods[] = {
    {BP_GOOD_FOOD, "red lentils", "rinsed", "dry store", "5 1/4 cups", "3 × 500 g",
     "A1 A2 A3 A4 A5", "", "", "", "", false},
    {BP_GOOD_FOOD, "vegetable stock", "", "dry store", "3 L", "3 × 1 L", "A3 A4 A5", "celery", "",
     "", "", false},
    {BP_GOOD_FOOD, "Greek yogurt (γιαούρτι)", "strained", "fridge", "6 cups", "2 × 1 kg",
     "B3 B4 C1 C2 C3 C4 C5", "milk", "", "", "", false},
    {BP_GOOD_FOOD, "butternut squash", "", "market", "3½ kg", "", "B1 B2 B3 B4", "", "", "", "",
     false},
    {BP_GOOD_VESSEL, "soup pot", "4 L", "", "5", "", "A1 A2 A3 A4 A5", "", "", "", "", false},
    {BP_GOOD_TOOL, "stick blender", "", "", "1", "", "A3 A4 A5", "", "", "", "", false},
};

static const bp_stand stands[] = {
    {BP_GOOD_VESSEL, "soup pot", "4 L", 1, MAIN, 0, 1, "stove"},
    {BP_GOOD_TOOL, "stick blender", "", 1, MAIN, 2, 3, "stove"},
    {BP_GOOD_SUPPLY, "tasting spoon", "1 a person and dish", 3, SWEET, 13, 13, "front"},
    {BP_GOOD_SUPPLY, "fire blanket", "1 for the show", 1, MAIN, NONE, NONE, ""},
};

static const bp_pack packs[] = {
    {BP_PACK_KITCHEN, NONE, BP_GOOD_VESSEL, "soup pot", "4 L", 4, 4, true, "A1 A2 A3 A4"},
    {BP_PACK_SET, MAIN, BP_GOOD_VESSEL, "soup pot", "4 L", 1, 2, true, "A1 A5"},
    {BP_PACK_SET, MAIN, BP_GOOD_TOOL, "stick blender", "", 0, 1, false, "A3"},
    {BP_PACK_TASTING, SWEET, BP_GOOD_SUPPLY, "tasting spoon", "1 a person and dish", 3, 3, false,
     "C3"},
};

static const bp_finding findings[] = {
    {BP_STOP, NONE, BP_NO_TIME, "",
     "C5 comes 6 min late to the set; bake it with the others or leave the spare out",
     "Rui Sol, kitchen manager: the spare is shown and not eaten"},
    {BP_CAUTION, 1, AT(8, 10), "FDA Food Code 3-501.16(A)",
     "A2 stands below 135 F from 08:10; serve or throw away by 12:10", ""},
    {BP_NOTE, NONE, BP_NO_TIME, "", "the presenter cooks until 07:25, make-up is at 07:40", ""},
};

static const bp_reading readings[] = {
    {{0, 0},
     BP_NO_TIME,
     "Received: chicken thighs at most 5 °C (41 °F)",
     "FDA Food Code 3-202.11(A)"},
    {{0, 2}, AT(7, 10), "Simmer: core at least 74 °C (165 °F), for 15 s", "FDA Food Code 3-401.11"},
    {{0, 1}, AT(8, 10), "Kept hot: at least 57 °C (135 °F)", "FDA Food Code 3-501.16(A)(1)"},
};

static const bp_fact facts[] = {
    {"the deck oven has 3 positions", "/kitchen/ovens/0/positions", "sample.json", 14, 40},
    {"the cake bakes 35-40 min at 350 F", "/recipes/2/steps/2/time", "sample.json", 96, 71},
    {"the squash roasts 25-28 min at 400 F", "/recipes/1/steps/2/time", "sample.json", 71, 82},
};

static const bp_fix fixes[] = {
    {"leave out the spare finished cake", "/segments/1/dishes/0/spares", true},
    {"give the deck oven 4 positions", "/kitchen/ovens/0/positions", true},
};

static const bp_goal goals[] = {
    {"late", "min", 6, 6, true},
    {"crew time", "weighted min", 461, 455, false},
    {"waiting", "weighted min", 388, 0, false},
    {"hand-overs", "times", 9, 0, false},
};

static uint32_t number_of(const char *word, size_t len)
{
    for (uint32_t i = 0; i < ROWS(containers); i++)
        if (strlen(containers[i].code) == len && memcmp(containers[i].code, word, len) == 0)
            return i;
    for (uint32_t i = 0; i < ROWS(things); i++)
        if (strlen(things[i].id) == len && memcmp(things[i].id, word, len) == 0)
            return i;
    abort(); /* a misspelt row */
}

static bp_slice list_of(plan_sample *s, const char *words)
{
    bp_slice out = {s->plan.indexes, 0};
    for (const char *w = words; *w;) {
        size_t len = strcspn(w, " ");
        if (s->plan.indexes == SAMPLE_INDEX)
            abort();
        s->index[s->plan.indexes++] = number_of(w, len);
        out.n++;
        w += len + (w[len] == ' ');
    }
    return out;
}

static const char *text_or_empty(const char *s)
{
    return s ? s : "";
}

static int64_t time_or_none(int64_t t)
{
    return t ? t : BP_NO_TIME;
}

/* One text a row, made once; its content never changes. */
static char keys[ROWS(op_rows)][64];

static const char *key_of(uint32_t row)
{
    static const char *const segment[] = {"main", "sweet"};
    static const char *const dish[] = {"soup", "squash", "cake"};
    const op_row *r = &op_rows[row];
    char *k = keys[row];
    k[0] = '\0';
    strncat(k, segment[r->air], 63);
    if (r->dish != NONE) {
        strncat(k, "/", 63 - strlen(k));
        strncat(k, dish[r->dish], 63 - strlen(k));
    }
    if (*r->serves) {
        strncat(k, "/", 63 - strlen(k));
        size_t at = strlen(k);
        strncat(k, r->serves, 63 - strlen(k));
        for (char *c = k + at; *c; c++)
            if (*c == ' ')
                *c = '+';
    }
    strncat(k, "/", 63 - strlen(k));
    strncat(k, r->name, 63 - strlen(k));
    return k;
}

static bool comes_before(const bp_op *a, const bp_op *b)
{
    if (a->from != b->from)
        return a->from < b->from;
    if (a->person != b->person)
        return a->person < b->person;
    return strcmp(a->key, b->key) < 0;
}

static void add_op(plan_sample *s, uint32_t row)
{
    const op_row *r = &op_rows[row];
    bp_op op = {.kind = r->kind,
                .key = key_of(row),
                .text = r->text,
                .detail = text_or_empty(r->detail),
                .caution = text_or_empty(r->caution),
                .person = r->person,
                .serves = list_of(s, r->serves),
                .uses = list_of(s, r->uses),
                .dish = r->dish,
                .air = r->air,
                .from = r->from,
                .to = r->to,
                .off_least = time_or_none(r->off_least),
                .off_most = time_or_none(r->off_most),
                .latest_from = r->from + 120,
                .hold_until = time_or_none(r->hold_until),
                .oven_mC = r->oven ? r->oven_mC : BP_NO_TEMP,
                .core_mC = r->core ? r->core_mC : BP_NO_TEMP,
                .oven_text = text_or_empty(r->oven),
                .core_text = text_or_empty(r->core)};
    uint32_t at = s->plan.ops++;
    for (; at > 0 && comes_before(&op, &s->op[at - 1]); at--)
        s->op[at] = s->op[at - 1];
    s->op[at] = op;
}

_Static_assert(ROWS(op_rows) <= SAMPLE_OPS, "room for every operation");
_Static_assert(ROWS(beat_rows) <= SAMPLE_BEATS, "room for every beat");
_Static_assert(ROWS(containers) == SAMPLE_CONTAINERS, "room for every container");

static bp_slice numbers(plan_sample *s, const uint32_t *n, uint32_t count)
{
    bp_slice out = {s->plan.indexes, count};
    if (count > SAMPLE_INDEX - s->plan.indexes)
        abort();
    memcpy(s->index + s->plan.indexes, n, count * sizeof *n);
    s->plan.indexes += count;
    return out;
}

/* The first appearance as it is, and without the tossing of the squash. */
static void add_versions(plan_sample *s)
{
    static const uint32_t as_is[] = {20, 45, 38, 40, 0, 42, 35, 30, 15};
    static const uint32_t most[] = {25, 50, 40, 40, 0, 0, 45, 44, 20};
    static const uint32_t least[] = {15, 30, 25, 25, 0, 0, 25, 25, 15};
    s->version[0] = (bp_version){265, 265, 0x1EF, {0}, {0}, {0}};
    s->version[0].at_least = s->version[0].at_most = numbers(s, as_is, ROWS(as_is));
    s->version[1] = (bp_version){160, 264, 0x1CF, list_of(s, "B1"), {0}, {0}};
    s->version[1].at_least = numbers(s, least, ROWS(least));
    s->version[1].at_most = numbers(s, most, ROWS(most));
}

void plan_sample_fill(plan_sample *s)
{
    memset(s, 0, sizeof *s);
    memcpy(s->air, airs, sizeof airs);
    memcpy(s->container, containers, sizeof containers);
    for (uint32_t i = 0; i < ROWS(beat_rows); i++) {
        s->beat[i] = beat_rows[i].b;
        s->beat[i].in = list_of(s, beat_rows[i].in);
        s->beat[i].out = list_of(s, beat_rows[i].out);
        s->beat[i].on = list_of(s, beat_rows[i].on);
        s->beat[i].ready = true;
        s->beat[i].caution =
            i == 1 ? "Hot oil: lid within reach.\nKnife: carry it point down." : "";
        s->beat[i].spoken = s->beat[i].words[0] ? 9 : 0;
        s->beat[i].worth = 10;
        s->beat[i].keep = strcmp(s->beat[i].id, "hello") == 0 || s->beat[i].taste;
    }
    for (uint32_t i = 0; i < ROWS(beat_rows); i++)
        s->beat[i].crosses = s->beat[i].camera = "";
    s->beat[2].camera = "close-up";
    s->beat[2].camera_move = 8;
    s->beat[2].camera_late = 3;
    s->beat[1].walk = s->beat[1].place = 6;
    s->beat[2].crosses = "past front, where A4 is hot";
    s->beat[0].lines = (bp_slice){0, 1};
    s->beat[2].lines = (bp_slice){1, 1};
    add_versions(s);
    for (uint32_t i = 0; i < ROWS(op_rows); i++)
        add_op(s, i);
    uint32_t indexes = s->plan.indexes, ops = s->plan.ops;
    s->plan = (bp_plan){
        .format = BP_PLAN_FORMAT,
        .verdict = BP_LATE,
        .show_id = "ribeira-morning",
        .title = "Manhã na Ribeira: the long morning show",
        .file = "sample.json",
        .zone = "Europe/Lisbon",
        .year = 2026,
        .month = 12,
        .day = 3,
        .midnight = 1796256000,
        .stamp = "1f2e3d4c",
        .alarm = 300,
        .defer = "Local food safety law and the licensed kitchen manager of the venue come first; "
                 "this sheet warns, it does not certify.",
        .work = 20000,
        .person = persons,
        .persons = ROWS(persons),
        .stint = stints,
        .stints = ROWS(stints),
        .rest = rests,
        .rests = ROWS(rests),
        .thing = things,
        .things = ROWS(things),
        .air = s->air,
        .airs = ROWS(airs),
        .beat = s->beat,
        .beats = ROWS(beat_rows),
        .version = s->version,
        .versions = SAMPLE_VERSIONS,
        .line = lines,
        .lines = ROWS(lines),
        .claim = claims,
        .claims = ROWS(claims),
        .reply = replies,
        .replies = ROWS(replies),
        .tease = teases,
        .teases = ROWS(teases),
        .dish = dishes,
        .dishes = ROWS(dishes),
        .container = s->container,
        .containers = ROWS(containers),
        .op = s->op,
        .ops = ops,
        .good = goods,
        .goods = ROWS(goods),
        .stand = stands,
        .stands = ROWS(stands),
        .pack = packs,
        .packs = ROWS(packs),
        .finding = findings,
        .findings = ROWS(findings),
        .limits = "FDA Food Code 2022",
        .reading = readings,
        .readings = ROWS(readings),
        .fact = facts,
        .facts = ROWS(facts),
        .facts_minimal = true,
        .fix = fixes,
        .fixes = ROWS(fixes),
        .goal = goals,
        .goals = ROWS(goals),
        .index = s->index,
        .indexes = indexes};
}

/* 2000 days: half of them late by two bins, on account of the first operations. */
static uint32_t sample_bins[BP_CHANCE_BINS];
static bp_odds sample_odds[SAMPLE_CONTAINERS];
static const bp_driver sample_drivers[] = {{3, 900, 1500}, {5, 400, 600}};
static const bp_early sample_earlies[] = {
    {0, 1000, 0, BP_NO_INDEX}, {300, 1999, 0, BP_NO_INDEX}, {600, 2000, 1, 0}};
static const bp_buffer sample_buffers[] = {{"soup", "sweat", "Sweat the vegetables", 180}};
static const bp_chance sample_chance = {.days = 2000,
                                        .seed = UINT64_C(12345678901234567890),
                                        .share = 500,
                                        .uncertain = 4,
                                        .on_time = 1000,
                                        .width = 30,
                                        .bin = sample_bins,
                                        .odds = sample_odds,
                                        .driver = sample_drivers,
                                        .drivers = ROWS(sample_drivers),
                                        .asked = 95,
                                        .without = 200,
                                        .buffer = sample_buffers,
                                        .buffers = ROWS(sample_buffers),
                                        .early = sample_earlies,
                                        .earlies = ROWS(sample_earlies)};

static void play_days(plan_sample *s)
{
    sample_bins[BP_CHANCE_BINS / 2] = 1000;
    sample_bins[BP_CHANCE_BINS / 2 + 2] = 1000;
    for (uint32_t i = 0; i < SAMPLE_CONTAINERS; i++)
        sample_odds[i] = (bp_odds){.on_time = i ? 2000 : 1000,
                                   .half = s->container[i].on_set,
                                   .nine_tenths = i ? s->container[i].on_set : BP_NO_TIME,
                                   .bin = sample_bins};
    s->plan.chance = &sample_chance;
}

void plan_sample_fill_planned(plan_sample *s)
{
    plan_sample_fill(s);
    bp_container *late = &s->container[SAMPLE_CONTAINERS - 1];
    late->set_by = late->on_set;
    late->late = 0;
    s->plan.verdict = BP_PLANNED;
    s->plan.finding = findings + 1;
    s->plan.findings = ROWS(findings) - 1;
    s->plan.facts = s->plan.fixes = 0;
    s->plan.fact = NULL;
    s->plan.fix = NULL;
    s->plan.goals = 3; /* nothing late: no such goal */
    s->plan.goal = goals + 1;
    play_days(s);
}
