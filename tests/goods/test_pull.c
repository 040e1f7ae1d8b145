#include "goods/pull.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "goods/entry.h"
#include "model/allergen.h"

static bp_errors errs;
static bpi_arena *arena;
static bpi_fault fault;

static void set_up(void)
{
    errs = (bp_errors){0};
    arena = bpi_arena_new();
}

static void tear_down(void)
{
    bpi_arena_free(arena);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

/* An ingredient from its texts. */
static bpi_ingredient food(const char *amount, const char *item, const char *note, const char *from,
                           const char *pack)
{
    bpi_ingredient in = {.item = item,
                         .amount_text = amount,
                         .note = note,
                         .from = from,
                         .aisle = "",
                         .instead = ""};
    ck_assert(bpi_quantity_read(&in.amount, amount, strlen(amount), &fault));
    ck_assert(bpi_quantity_read(&in.pack, pack, strlen(pack), &fault));
    return in;
}

/* A small kitchen: a soup of three steps, a bread of one. */
static bpi_ingredient chop[2], simmer[3], finish[2], bake[3];
static bpi_step soup[3], bread[1];
static bpi_recipe recipes[2];
static bpi_tool tools[3];
static bpi_show show;

static void lay_out(void)
{
    chop[0] = food("400 g", "carrots", "", "market", "1 kg bag");
    chop[1] = food("1", "onion", "", "market", "");
    simmer[0] = food("1 1/2 cup", "red lentils", "rinsed", "dry store", "");
    simmer[1] = food("2 x 400 g can", "tomatoes", "", "dry store", "");
    simmer[2] = food("", "salt", "", "", "");
    finish[0] = food("1/2 cup", "yogurt", "", "fridge", "500 g tub");
    finish[1] = food("2 tbsp", "olive oil", "to drizzle", "dry store", "");
    bake[0] = food("1/2 cup", "olive oil", "", "dry store", "");
    bake[1] = food("500 g", "flour", "sifted", "dry store", "1 kg bag");
    bake[2] = food("1", "onion", "sliced", "market", "");
    finish[0].allergens = 1u << bpi_allergen_find("milk");
    bake[1].allergens = 1u << bpi_allergen_find("wheat");
    soup[0] = (bpi_step){.ingredient = chop, .ingredients = 2};
    soup[1] = (bpi_step){.ingredient = simmer, .ingredients = 3};
    soup[2] = (bpi_step){.ingredient = finish, .ingredients = 2};
    bread[0] = (bpi_step){.ingredient = bake, .ingredients = 3};
    recipes[0] = (bpi_recipe){.step = soup, .steps = 3, .all = 7};
    recipes[1] = (bpi_recipe){.step = bread, .steps = 1, .all = 1};
    tools[0] = (bpi_tool){.name = "blender", .size = "", .count = 1};
    tools[1] = (bpi_tool){.name = "soup pot", .size = "4 l", .count = 3, .vessel = true};
    tools[2] = (bpi_tool){.name = "tray", .size = "40 cm", .count = 2, .vessel = true};
    show = (bpi_show){.recipe = recipes, .recipes = 2, .kitchen = {.tool = tools, .tools = 3}};
}

/* The list as text: "item|note|from|need|buy|codes|allergens" a line. */
static const uint32_t *supplied;

static char *list(const bpi_pull_box *box, uint32_t boxes, const bpi_pull_use *use, uint32_t uses)
{
    const bp_good *good = NULL;
    uint32_t n = 0;
    static char out[4000];
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, box, boxes, use, uses, supplied, &errs),
                     BP_OK);
    bpi_text_put(&t, "");
    for (uint32_t i = 0; i < n; i++)
        bpi_text_f(&t, "%c %s|%s|%s|%s|%s|%s|%s\n", "FVTS"[good[i].kind], good[i].item,
                   good[i].note, good[i].from, good[i].need, good[i].buy, good[i].codes,
                   good[i].allergens);
    ck_assert_uint_lt(t.len, sizeof out);
    memcpy(out, t.s, t.len + 1);
    bpi_text_release(&t);
    return out;
}

/* By hand. A1 is raw at half size and shows everything: half of each ingredient. A2 is mid-cook, whole,
 * after chopping and simmering. A3 is finished, whole. B1 is a bread, one and a half times.
 *   carrots   200 + 400 + 400 g              = 1000 g = 1 kg, one bag
 *   onion     1/2 + 1 + 1 (soup) + 1 1/2     = 4
 *   lentils   3/4 + 1 1/2 + 1 1/2 cups       = 3 3/4 cups
 *   tomatoes  1 + 2 + 2 cans                 = 5 cans
 *   yogurt    1/4 + 0 + 1/2 cup              = 3/4 cup; sold by weight: a person must judge
 *   oil       1 + 0 + 2 tbsp + 3/4 cup       = 3 tbsp + 12 tbsp = 15 tbsp = 3/4 cup + 3 tbsp
 *   flour     750 g                          = one bag of 1 kg
 *   salt      to taste, without a place: last */
START_TEST(a_morning_is_summed_as_by_hand)
{
    lay_out();
    const bpi_pull_box box[] = {
        {"A1", 0, {1, 2}, bpi_pull_steps(&recipes[0], BPI_RAW, 0, 0)},
        {"A2", 0, {1, 1}, bpi_pull_steps(&recipes[0], BPI_MID, 3, 0)},
        {"A3", 0, {1, 1}, bpi_pull_steps(&recipes[0], BPI_FINISHED, 7, 0)},
        {"B1", 1, {3, 2}, bpi_pull_steps(&recipes[1], BPI_FINISHED, 1, 0)},
    };
    ck_assert_str_eq(list(box, 4, NULL, 0),
                     "F flour|sifted|dry store|750 g|1 x 1 kg bag|B1|wheat\n"
                     "F olive oil|to drizzle|dry store|3/4 cup + 3 tbsp||A1 A3 B1|\n"
                     "F red lentils|rinsed|dry store|3 3/4 cups||A1 A2 A3|\n"
                     "F tomatoes||dry store|5 x 400 g can|5 x 400 g can|A1 A2 A3|\n"
                     "F yogurt||fridge|3/4 cup|packs of 500 g tub, judge how many|A1 A3|milk\n"
                     "F carrots||market|1 kg|1 x 1 kg bag|A1 A2 A3|\n"
                     "F onion|sliced|market|4||A1 A2 A3 B1|\n"
                     "F salt|||to taste||A1 A2 A3|\n");
}
END_TEST

START_TEST(steps_done_on_air_bring_their_ingredients)
{
    lay_out();
    ck_assert_uint_eq(bpi_pull_steps(&recipes[0], BPI_MID, 3, 4), 7);
    ck_assert_uint_eq(bpi_pull_steps(&recipes[0], BPI_RAW, 0, 1), 7);
    ck_assert_uint_eq(bpi_pull_steps(&recipes[0], BPI_FINISHED, 7, 0), 7);
    const bpi_pull_box box = {"A2", 0, {1, 1}, bpi_pull_steps(&recipes[0], BPI_MID, 1, 4)};
    ck_assert_str_eq(list(&box, 1, NULL, 0),
                     "F olive oil|to drizzle|dry store|2 tbsp||A2|\n"
                     "F yogurt||fridge|1/2 cup|packs of 500 g tub, judge how "
                     "many|A2|milk\n"
                     "F carrots||market|400 g|1 x 1 kg bag|A2|\n"
                     "F onion||market|1||A2|\n");
}
END_TEST

/* By hand, with the published 1 cup = 125 g of white flour (USDA SR28 20081): bread takes 500 g, the soup
 * 2 cups = 250 g of it, in all 750 g, one bag of a kilogram. Yogurt, 1 cup = 245 g (01116): 3 cups are
 * 735 g, two tubs of 500 g, and stay cups, for nobody asks for grams of it. Oil of the bread by weight
 * says nothing of what a spoon weighs: two lines. */
START_TEST(volume_meets_mass_by_a_stated_weight)
{
    lay_out();
    static const char flour[] = "Wheat flour, white, all-purpose, enriched, bleached";
    static const char yogurt[] = "Yogurt, plain, whole milk, 8 grams protein per 8 ounce";
    chop[0] = food("2 cup", "flour", "", "dry store", "");
    ck_assert(bpi_weight_read(&chop[0].weighs, flour, sizeof flour - 1, &fault));
    finish[0] = food("3 cup", "yogurt", "", "fridge", "500 g tub");
    ck_assert(bpi_weight_read(&finish[0].weighs, yogurt, sizeof yogurt - 1, &fault));
    bake[0] = food("100 g", "olive oil", "", "dry store", "");
    const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 7}, {"B1", 1, {1, 1}, 1}};
    const char *text = list(box, 2, NULL, 0);
    ck_assert_ptr_nonnull(strstr(text,
                                 "F flour|1 cup = 125 g (USDA SR28 20081); sifted|dry store|750 g|"
                                 "1 x 1 kg bag|A1 B1|wheat\n"));
    ck_assert_ptr_nonnull(strstr(text, "F yogurt|1 cup = 245 g (USDA SR28 01116)|fridge|3 cups|"
                                       "2 x 500 g tub|A1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F olive oil||dry store|100 g||B1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F olive oil|to drizzle|dry store|2 tbsp||A1|\n"));
}
END_TEST

/* Two weights in one line of cups: nobody can say what the line weighs. */
START_TEST(two_weights_of_one_item_are_left_to_judge)
{
    lay_out();
    finish[0] = food("1 cup", "yogurt", "", "fridge", "500 g tub");
    finish[1] = food("1 cup", "yogurt", "", "fridge", "500 g tub");
    ck_assert(bpi_weight_read(&finish[0].weighs, "1 cup = 240 g", 13, &fault));
    ck_assert(bpi_weight_read(&finish[1].weighs, "1 cup = 250 g", 13, &fault));
    const bpi_pull_box box = {"A1", 0, {1, 1}, 4};
    ck_assert_str_eq(list(&box, 1, NULL, 0),
                     "F yogurt||fridge|2 cups|packs of 500 g tub, judge how many|A1|\n");
    ck_assert(bpi_weight_read(&finish[1].weighs, "1/2 cup = 120 g", 15, &fault)); /* is the same */
    ck_assert_str_eq(list(&box, 1, NULL, 0),
                     "F yogurt|1 cup = 240 g|fridge|2 cups|1 x 500 g tub|A1|\n");
    ck_assert(
        bpi_weight_read(&finish[1].weighs, "1 pot = 240 g", 13, &fault)); /* says nothing of cups */
    ck_assert_str_eq(list(&box, 1, NULL, 0),
                     "F yogurt||fridge|2 cups|packs of 500 g tub, judge how many|A1|\n");
    simmer[0] = food("1 cup", "yogurt", "", "fridge", "500 g tub");
    ck_assert(bpi_weight_read(&simmer[0].weighs, "1 cup = 250 g", 13, &fault));
    const bpi_pull_box three = {"A1", 0, {1, 1}, 6}; /* once two differ, no third makes up for it */
    soup[1].ingredients = 1;
    ck_assert_str_eq(list(&three, 1, NULL, 0),
                     "F yogurt||fridge|3 cups|packs of 500 g tub, judge how many|A1|\n");
    ck_assert(
        bpi_weight_read(&finish[0].weighs, "1 cup = 1 kg", 12, &fault)); /* three times as much */
    ck_assert(bpi_weight_read(&finish[1].weighs, "3 cup = 1 kg", 12, &fault));
    ck_assert_str_eq(list(&box, 1, NULL, 0),
                     "F yogurt||fridge|2 cups|packs of 500 g tub, judge how many|A1|\n");
    finish[1].weighs = (bpi_weight){.number = NULL}; /* one says nothing: nor does the line */
    ck_assert_str_eq(list(&box, 1, NULL, 0),
                     "F yogurt||fridge|2 cups|packs of 500 g tub, judge how many|A1|\n");
}
END_TEST

/* A weight helps only where it is one of what is asked for, and packs are sold by weight. */
START_TEST(a_weight_of_something_else_does_not_help)
{
    static const struct {
        const char *weighs, *amount, *pack, *line;
    } rows[] = {
        {"1 clove = 3 g", "10 cloves", "50 g net", "30 g: 1 net"},
        {"1 clove = 3 g", "1 cup", "50 g net", "a cup"},
        {"1 clove = 3 g", "10 cloves", "100 ml jar", "a jar"},
    };
    static const char *const want[] = {
        "F garlic|1 clove = 3 g|market|10 cloves|1 x 50 g net|A1|\n",
        "F garlic||market|1 cup|packs of 50 g net, judge how many|A1|\n",
        "F garlic||market|10 cloves|packs of 100 ml jar, judge how many|A1|\n",
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        lay_out();
        chop[0] = food(rows[i].amount, "garlic", "", "market", rows[i].pack);
        ck_assert(bpi_weight_read(&chop[0].weighs, rows[i].weighs, strlen(rows[i].weighs), &fault));
        soup[0].ingredients = 1;
        const bpi_pull_box box = {"A1", 0, {1, 1}, 1};
        ck_assert_msg(strcmp(list(&box, 1, NULL, 0), want[i]) == 0, "%s", rows[i].line);
    }
    /* Grams of it stand in the bread, but not a cup of it can be weighed; nor are bags a weight. */
    static const char *const other[] = {"20 g", "20 g bag", "2 x 20 g"};
    for (size_t i = 0; i < 3; i++) {
        lay_out();
        chop[0] = food(i ? "10 cloves" : "1 cup", "garlic", "", "market", "");
        ck_assert(bpi_weight_read(&chop[0].weighs, "1 clove = 3 g", 13, &fault));
        bake[0] = food(other[i], "garlic", "", "market", "");
        const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 1}, {"B1", 1, {1, 1}, 1}};
        const char *text = list(box, 2, NULL, 0);
        ck_assert_ptr_nonnull(strstr(text, i ? "F garlic||market|10 cloves||A1|\n"
                                             : "F garlic||market|1 cup||A1|\n"));
    }
}
END_TEST

START_TEST(what_cannot_be_added_stays_two_lines)
{
    lay_out();
    bake[0] = food("100 g", "olive oil", "", "dry store", "");        /* by weight */
    bake[1] = food("2 x 800 g can", "tomatoes", "", "dry store", ""); /* other cans */
    bake[2] = food("1 1/2", "onion", "", "garden", "");               /* another place */
    const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 7}, {"B1", 1, {1, 1}, 1}};
    const char *text = list(box, 2, NULL, 0);
    ck_assert_ptr_nonnull(strstr(text, "F olive oil|to drizzle|dry store|2 tbsp||A1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F olive oil||dry store|100 g||B1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F tomatoes||dry store|2 x 400 g can|2 x 400 g can|A1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F tomatoes||dry store|2 x 800 g can|2 x 800 g can|B1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F onion||market|1||A1|\n"));
    ck_assert_ptr_nonnull(
        strstr(text, "F onion||garden|1 1/2|2|B1|\n")); /* whole ones are bought */
}
END_TEST

/* 1/P + 1/Q of an onion, P and Q primes of 32 bits: over one denominator that passes 64 bits. */
START_TEST(a_sum_that_cannot_be_held_stays_two_lines)
{
    lay_out();
    const bpi_pull_box box[] = {{"A1", 0, {1, 4294967291u}, 1}, {"A2", 0, {1, 4294967279u}, 1}};
    const char *text = list(box, 2, NULL, 0);
    ck_assert_ptr_nonnull(strstr(text, "F onion||market|1/8|1|A1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F onion||market|1/8|1|A2|\n"));
}
END_TEST

/* An item that stands in two aisles is fetched from both; a pack is joined to the very same alone. */
START_TEST(aisles_and_packs_keep_lines_apart)
{
    static const struct {
        const char *aisle[2], *pack[2];
        bool one;
    } rows[] = {
        {{"oils", "oils"}, {"1 l", "1 l"}, true},
        {{"oils", "sale"}, {"1 l", "1 l"}, false},
        {{"oils", "oils"}, {"1 l", "500 ml"}, false},
        {{"oils", "oils"}, {"1 l", "1/3 l"}, false}, /* 1/3 of the same number */
        {{"oils", "oils"}, {"1 l", "1 lb"}, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        lay_out();
        for (uint32_t k = 0; k < 2; k++) {
            finish[k] = food("200 ml", "olive oil", "", "dry store", rows[i].pack[k]);
            finish[k].aisle = rows[i].aisle[k];
        }
        const bpi_pull_box box = {"A1", 0, {1, 1}, 4};
        const bp_good *good = NULL;
        uint32_t n = 0;
        ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, &box, 1, NULL, 0, NULL, &errs),
                         BP_OK);
        ck_assert_uint_eq(n, rows[i].one ? 1 : 2);
        ck_assert_str_eq(good[0].need, rows[i].one ? "400 ml" : "200 ml");
    }
}
END_TEST

/* The same three items in every order of the show: aisles by name, then what has none. */
START_TEST(what_has_no_aisle_stands_behind_the_aisles)
{
    static const char *const aisles[] = {"", "onions", "roots"};
    static const uint32_t orders[][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2},
                                         {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    for (size_t o = 0; o < sizeof orders / sizeof *orders; o++) {
        lay_out();
        for (uint32_t i = 0; i < 3; i++) {
            simmer[i] = food("1", aisles[orders[o][i]], "", "market", "");
            simmer[i].aisle = aisles[orders[o][i]];
        }
        const bpi_pull_box box = {"A1", 0, {1, 1}, 2};
        ck_assert_str_eq(list(&box, 1, NULL, 0), "F onions||market|1||A1|\n"
                                                 "F roots||market|1||A1|\n"
                                                 "F ||market|1||A1|\n");
    }
}
END_TEST

START_TEST(notes_and_packs_join_on_one_line)
{
    lay_out();
    bake[0] = food("1 tbsp", "olive oil", "warm", "dry store", "500 ml bottle");
    bake[1] = food("1 tbsp", "olive oil", "to drizzle", "dry store", "");
    bake[2] = food("1 tbsp", "olive oil", "", "dry store", "1 l bottle"); /* another pack */
    const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 4}, {"B1", 1, {1, 1}, 1}};
    const char *text = list(box, 2, NULL, 0);
    ck_assert_ptr_nonnull(strstr(text, "F olive oil|to drizzle; warm|dry store|1/4 cup|1 x 500 ml "
                                       "bottle|A1 B1|\n"));
    ck_assert_ptr_nonnull(strstr(text, "F olive oil||dry store|1 tbsp|1 x 1 l bottle|B1|\n"));
}
END_TEST

/* Pots: A1 from 0 to 10, A2 from 5 to 15, A3 from 10 to 20: never more than two at one time, for A1's
 * is free at 10. Trays: one. The blender is a tool. A use of no length takes nothing. */
static bpi_pantry pantry[6];

static void put_at_hand(uint32_t i, const char *item, const char *amount)
{
    pantry[i].item = item;
    ck_assert(bpi_quantity_read(&pantry[i].amount, amount, strlen(amount), &fault));
    show.pantry = pantry;
    show.pantries = i + 1;
}

/* By hand: one soup and one bread. Oil 2 tbsp + 1/2 cup = 10 tbsp, 4 tbsp there: 6 tbsp = 1/4 cup + 2 tbsp;
 * carrots 400 g, 500 g there: nothing; flour 500 g, 200 g there: 300 g, still a bag; salt: enough;
 * onions 1 + 1, 1 1/2 there: 1/2, one whole; tomatoes are counted in other cans. */
START_TEST(what_is_at_hand_is_not_bought)
{
    lay_out();
    put_at_hand(0, "olive oil", "4 tbsp");
    put_at_hand(1, "carrots", "500 g");
    put_at_hand(2, "flour", "200 g");
    put_at_hand(3, "salt", "");
    put_at_hand(4, "onion", "1 1/2");
    put_at_hand(5, "tomatoes", "3 x 800 g can");
    const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 7}, {"B1", 1, {1, 1}, 1}};
    const bp_good *good = NULL;
    uint32_t n = 0;
    ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, box, 2, NULL, 0, NULL, &errs), BP_OK);
    static const struct {
        const char *item, *have, *buy;
    } want[] = {
        {"flour", "200 g", "1 x 1 kg bag"},
        {"olive oil", "1/4 cup", "1/4 cup + 2 tbsp"},
        {"red lentils", "", ""},
        {"tomatoes", "3 x 800 g can, judge for how much", "2 x 400 g can"},
        {"yogurt", "", "packs of 500 g tub, judge how many"},
        {"carrots", "500 g", "nothing"},
        {"onion", "1 1/2", "1"},
        {"salt", "at hand", "nothing"},
    };
    ck_assert_uint_eq(n, 8);
    for (uint32_t i = 0; i < n; i++) {
        ck_assert_str_eq(good[i].item, want[i].item);
        ck_assert_str_eq(good[i].have, want[i].have);
        ck_assert_str_eq(good[i].buy, want[i].buy);
    }
}
END_TEST

/* What one line leaves goes to the next of the same item; a pantry by weight, to cups with a weight. */
START_TEST(a_pantry_is_used_once)
{
    lay_out();
    bake[2] = food("1 1/2", "onion", "", "garden", "");
    finish[0] = food("1 cup", "yogurt", "", "fridge", "");
    ck_assert(bpi_weight_read(&finish[0].weighs, "1 cup = 240 g", 13, &fault));
    put_at_hand(0, "onion", "2");
    put_at_hand(1, "yogurt", "90 g");
    const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 7}, {"B1", 1, {1, 1}, 1}};
    const bp_good *good = NULL;
    uint32_t n = 0, seen = 0;
    ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, box, 2, NULL, 0, NULL, &errs), BP_OK);
    for (uint32_t i = 0; i < n; i++) {
        if (strcmp(good[i].from, "garden") == 0) { /* the first by name of its place: 2 - 1 1/2 */
            ck_assert_str_eq(good[i].have, "2");
            ck_assert_str_eq(good[i].buy, "nothing");
            seen++;
        } else if (strcmp(good[i].item, "onion") == 0) { /* 1/2 is left for one */
            ck_assert_str_eq(good[i].have, "1/2");
            ck_assert_str_eq(good[i].buy, "1");
            seen++;
        } else if (strcmp(good[i].item, "yogurt") == 0) { /* 240 g - 90 g */
            ck_assert_str_eq(good[i].need, "1 cup");
            ck_assert_str_eq(good[i].have, "90 g");
            ck_assert_str_eq(good[i].buy, "5 1/3 oz");
            ck_assert_str_eq(good[i].note, "1 cup = 240 g");
            seen++;
        }
    }
    ck_assert_uint_eq(seen, 3);
}
END_TEST

/* By hand: one onion is there, the garden's line takes it of its 1 1/2, nothing is left for the market's.
 * Yogurt, 1 cup of 240 g: 90 g and half a cup are there; what the half is worth in grams is left to
 * judge, for by then grams are bought. Salt is asked for without an amount, and some is there. */
START_TEST(what_is_at_hand_is_told_as_it_is)
{
    lay_out();
    bake[2] = food("1 1/2", "onion", "", "garden", "");
    finish[0] = food("1 cup", "yogurt", "", "fridge", "");
    ck_assert(bpi_weight_read(&finish[0].weighs, "1 cup = 240 g", 13, &fault));
    simmer[0] = food("2 cloves", "garlic", "", "market", "");
    ck_assert(bpi_weight_read(&simmer[0].weighs, "1 cup = 136 g", 13, &fault));
    chop[0] = food("1 egg", "eggs", "", "market", "");
    ck_assert(bpi_weight_read(&chop[0].weighs, "1 egg = 50 g", 12, &fault));
    put_at_hand(0, "onion", "1");
    put_at_hand(1, "yogurt", "90 g");
    put_at_hand(2, "yogurt", "1/2 cup");
    put_at_hand(3, "salt", "100 g");
    put_at_hand(4, "garlic", "20 g");
    put_at_hand(5, "eggs", "2 x 30 g");
    const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 7}, {"B1", 1, {1, 1}, 1}};
    static const struct {
        const char *item, *from, *have, *buy;
    } want[] = {
        {"onion", "garden", "1", "1"}, /* half a one: a whole one is bought */
        {"onion", "market", "", ""},
        {"yogurt", "fridge", "90 g + 1/2 cup, judge for how much", "5 1/3 oz"},
        {"salt", "", "at hand", "nothing"},
        {"garlic", "market", "20 g, judge for how much",
         "2 cloves"}, /* cups say nothing of cloves */
        {"eggs", "market", "2 x 30 g, judge for how much", "1 egg"}, /* nor grams of packs */
    };
    const bp_good *good = NULL;
    uint32_t n = 0, seen = 0;
    ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, box, 2, NULL, 0, NULL, &errs), BP_OK);
    for (uint32_t i = 0; i < n; i++)
        for (size_t k = 0; k < sizeof want / sizeof *want; k++)
            if (strcmp(good[i].item, want[k].item) == 0 &&
                strcmp(good[i].from, want[k].from) == 0) {
                ck_assert_str_eq(good[i].have, want[k].have);
                ck_assert_str_eq(good[i].buy, want[k].buy);
                seen++;
            }
    ck_assert_uint_eq(seen, sizeof want / sizeof *want);
}
END_TEST

START_TEST(aisles_group_and_substitutes_go_with_the_line)
{
    lay_out();
    chop[0].aisle = "roots";
    chop[1].aisle = "onions";
    chop[0].instead = "parsnips";
    chop[1].instead = "2 leeks";
    bake[2].aisle = "onions";
    bake[2].instead = "3 shallots";
    const bpi_pull_box box[] = {{"A1", 0, {1, 1}, 1}, {"B1", 1, {1, 1}, 1}};
    const bp_good *good = NULL;
    uint32_t n = 0;
    ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, box, 2, NULL, 0, NULL, &errs), BP_OK);
    ck_assert_uint_eq(n, 4);
    ck_assert_str_eq(good[2].item, "onion");
    ck_assert_str_eq(good[2].aisle, "onions");
    ck_assert_str_eq(good[2].need, "2");
    ck_assert_str_eq(good[2].instead, "2 leeks; 3 shallots");
    ck_assert_str_eq(good[3].item, "carrots");
    ck_assert_str_eq(good[3].instead, "parsnips");
}
END_TEST

/* As many as the day takes; none is fetched for nobody. */
START_TEST(supplies_are_as_many_as_the_day_takes)
{
    lay_out();
    static const bpi_supply supply[] = {
        {.item = "fire blanket", .from = "", .count = 1, .per = BPI_PER_SHOW},
        {.item = "side towel", .from = "linen", .count = 4, .per = BPI_PER_COOK},
        {.item = "cloth", .from = "", .count = 1, .per = BPI_PER_APPEARANCE},
        {.item = "lid", .from = "", .count = 1, .per = BPI_PER_CONTAINER},
        {.item = "tasting spoon", .from = "props", .count = 2, .per = BPI_PER_TASTE},
        {.item = "wipe", .from = "", .count = 3, .per = BPI_PER_BEAT},
    };
    static const uint32_t day[] = {1, 8, 3, 5, 14, 6}, nobody[] = {1, 4, 0, 0, 0, 0};
    show.supply = supply;
    show.supplies = 6;
    supplied = day;
    ck_assert_str_eq(list(NULL, 0, NULL, 0), "S fire blanket|1 for the show||1|||\n"
                                             "S side towel|4 a cook|linen|8|||\n"
                                             "S cloth|1 an appearance||3|||\n"
                                             "S lid|1 a container||5|||\n"
                                             "S tasting spoon|2 a person and dish|props|14|||\n"
                                             "S wipe|3 a beat||6|||\n");
    supplied = nobody;
    ck_assert_str_eq(list(NULL, 0, NULL, 0), "S fire blanket|1 for the show||1|||\n"
                                             "S side towel|4 a cook|linen|4|||\n");
    supplied = NULL;
}
END_TEST

START_TEST(vessels_are_counted_at_their_busiest)
{
    lay_out();
    const bpi_pull_use use[] = {
        {1, 0, 10, "A1", 0},
        {0, 3, 4, "A1 A2", 0},
        {1, 10, 20, "A3", 0},
        {1, 5, 15, "A2", 0},
        {2, 7, 9, "B1", 0},
        {2, 9, 9, "B2", 0},
        {1, 20, 21, "A1", 0},           /* once more: told once */
        {BPI_PULL_BOWL, 2, 4, "B2", 0}, /* of the vessels the last */
    };
    const bpi_pull_box box[] = {
        {"A1", 1, {1, 1}, 0},  {"A2", 1, {1, 1}, 0}, {"A3", 1, {1, 1}, 0},
        {"A10", 1, {1, 1}, 0}, {"B1", 1, {1, 1}, 0}, {"B2", 1, {1, 1}, 0},
    };
    ck_assert_str_eq(list(box, 6, use, 8), "V soup pot|4 l||2||A1 A2 A3|\n"
                                           "V tray|40 cm||1||B1 B2|\n"
                                           "V small bowl|one for each measured ingredient||1||B2|\n"
                                           "T blender|||1||A1 A2|\n");
    ck_assert_str_eq(list(NULL, 0, NULL, 0), "");
    int64_t at = 0;
    ck_assert_uint_eq(bpi_gear_most(1, use, 6, &at), 2);
    ck_assert_int_eq(at, 5);
    ck_assert_uint_eq(bpi_gear_most(BPI_PULL_BOWL, use, 6, &at), 0);
}
END_TEST

/* The busiest moment is the first of those that are as busy, in whatever order uses are listed. A code
 * is not found within another. */
START_TEST(the_first_busiest_moment_is_told)
{
    lay_out();
    const bpi_pull_use use[] = {
        {2, 30, 40, "A10 B1", 0}, {2, 10, 20, "A10", 0}, {2, 50, 60, "BA1 A1B", 0}};
    const bpi_pull_box box[] = {{"A1", 1, {1, 1}, 0}, {"B1", 1, {1, 1}, 0}};
    int64_t at = 0;
    ck_assert_uint_eq(bpi_gear_most(2, use, 3, &at), 1);
    ck_assert_int_eq(at, 10);
    ck_assert_uint_eq(bpi_gear_most(2, use, 3, NULL), 1);
    ck_assert_str_eq(list(box, 2, use, 3), "V tray|40 cm||1||B1|\n");
}
END_TEST

START_TEST(an_amount_that_cannot_be_scaled_is_an_error_at_its_place)
{
    lay_out();
    chop[0] = food("99999.9999 lb", "carrots", "", "market", "");
    chop[0].where = (bpi_where){"s.json", "/x", 7, 9};
    const bpi_pull_box box = {"A1", 0, {UINT32_MAX, 1}, 1};
    const bp_good *good = (const bp_good *)&box;
    uint32_t n = 9;
    ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, &box, 1, NULL, 0, NULL, &errs),
                     BP_ERANGE);
    ck_assert_ptr_null(good);
    ck_assert_uint_eq(n, 0);
    ck_assert_uint_eq(errs.item[0].line, 7);
    ck_assert_str_eq(errs.item[0].wrong, "the amount of carrots is too large to be scaled");
}
END_TEST

/* An amount, a pack and what is at hand, each in packs that hold more than can be counted. */
START_TEST(packs_past_what_can_be_held_are_an_error_at_their_place)
{
    static const char all[] = "997 x 99999.9999 gallon";
    static const char *const wrong[] = {"the amount of carrots is too large to be scaled",
                                        "the amount of carrots is too large to be scaled",
                                        "the amount of carrots at hand is too large"};
    for (size_t i = 0; i < 3; i++) {
        lay_out();
        errs = (bp_errors){0};
        chop[0] = food(i == 0 ? all : "1 l", "carrots", "", "", i == 1 ? all : "");
        chop[0].where = (bpi_where){"s.json", "/x", 7, 9};
        put_at_hand(0, "carrots", i == 2 ? all : "1 l");
        pantry[0].where = (bpi_where){"s.json", "/pantry/0", 7, 3};
        const bpi_pull_box box = {"A1", 0, {1, 1}, 1};
        const bp_good *good = (const bp_good *)&box;
        uint32_t n = 9;
        ck_assert_int_eq(bpi_pull_make(&good, &n, arena, &show, &box, 1, NULL, 0, NULL, &errs),
                         BP_ERANGE);
        ck_assert_ptr_null(good);
        ck_assert_uint_eq(errs.item[0].line, 7);
        ck_assert_str_eq(errs.item[0].wrong, wrong[i]);
    }
}
END_TEST

START_TEST(every_request_for_memory_may_fail)
{
    static const bpi_supply supply[] = {
        {.item = "side towel", .from = "linen", .count = 4, .per = BPI_PER_COOK},
        {.item = "lid", .from = "", .count = 1, .per = BPI_PER_CONTAINER},
    };
    lay_out();
    show.supply = supply;
    show.supplies = 2;
    chop[1].instead = "2 leeks, or what else of the kind there is that day";
    finish[0] = food("1 cup", "yogurt", "", "fridge", "500 g tub");
    ck_assert(bpi_weight_read(&finish[0].weighs, "1 cup = 240 g", 13, &fault));
    put_at_hand(0, "yogurt", "90 g");
    const bpi_pull_box box[] = {{"A1", 0, {1, 2}, 7}, {"B1", 1, {1, 1}, 1}};
    const bpi_pull_use use[] = {
        {1, 0, 1, "A1", 0}, {0, 0, 1, "B1", 0}, {BPI_PULL_BOWL, 0, 1, "A1", 0}};
    static const uint32_t day[] = {8, 2};
    bool fired = true;
    uint32_t boxes = 2;
    for (long k = 0; fired || boxes; k++) {
        ck_assert_int_lt(k, 2000);
        if (!fired) { /* once more without food: then a supply opens the list */
            boxes = 0;
            k = 0;
        }
        bpi_arena *a = bpi_arena_new();
        const bp_good *good = NULL;
        uint32_t n = 0;
        errs = (bp_errors){0};
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_pull_make(&good, &n, a, &show, box, boxes, use, boxes ? 3 : 0, day, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert_int_eq(good == NULL, fired);
        ck_assert_uint_eq(errs.n, fired);
        bpi_arena_free(a);
    }
}
END_TEST

/* ---- one ingredient as a line ------------------------------------------------------------------ */

START_TEST(a_line_for_a_cook_keeps_the_words_of_the_show)
{
    lay_out();
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_entry_put_step(&t, &soup[1], (bpi_ratio){1, 1});
    ck_assert_str_eq(t.s, "1 1/2 cup red lentils, rinsed\n2 x 400 g can tomatoes\nsalt, to taste");
    bpi_text_reset(&t);
    bpi_entry_put_step(&t, &soup[1], (bpi_ratio){3, 2});
    ck_assert_str_eq(t.s, "2 1/4 cups red lentils, rinsed\n3 x 400 g can tomatoes\nsalt, to taste");
    bpi_text_reset(&t);
    bpi_ingredient large = food("99999.9999 lb", "carrots", "", "", "");
    bpi_entry_put(&t, &large, (bpi_ratio){UINT32_MAX, 1});
    ck_assert_str_eq(t.s, "4294967295/1 x 99999.9999 lb carrots");
    bpi_text_reset(&t);
    large = food("997 x 99999.9999 gallon", "stock", "", "", "");
    bpi_entry_put(&t, &large, (bpi_ratio){3, 2});
    ck_assert_str_eq(t.s, "3/2 x 997 x 99999.9999 gallon stock");
    bpi_text_release(&t);
}
END_TEST

START_TEST(sizes_are_added_exactly)
{
    bpi_ratio r = bpi_ratio_add((bpi_ratio){1, 2}, (bpi_ratio){1, 3});
    ck_assert(r.num == 5 && r.den == 6);
    r = bpi_ratio_add(r, (bpi_ratio){1, 6});
    ck_assert(r.num == 1 && r.den == 1);
    r = bpi_ratio_add((bpi_ratio){1, 4294967291u}, (bpi_ratio){1, 4294967279u}); /* two primes */
    ck_assert(r.num == 1 && r.den == 1);
    r = bpi_ratio_add((bpi_ratio){UINT32_MAX, 1}, (bpi_ratio){UINT32_MAX, 1});
    ck_assert(r.num == UINT32_MAX && r.den == 1);
    /* Each is a little over 1, but their sum over one denominator passes 64 bits: never short. */
    r = bpi_ratio_add((bpi_ratio){UINT32_MAX, 4294967291u}, (bpi_ratio){UINT32_MAX, 4294967279u});
    ck_assert(r.num == UINT32_MAX && r.den == 1);
}
END_TEST

Suite *suite_goods_pull(void);
Suite *suite_goods_pull(void)
{
    Suite *s = suite_create("goods/pull");
    TCase *c = tcase_create("pull");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, volume_meets_mass_by_a_stated_weight);
    tcase_add_test(c, two_weights_of_one_item_are_left_to_judge);
    tcase_add_test(c, a_morning_is_summed_as_by_hand);
    tcase_add_test(c, steps_done_on_air_bring_their_ingredients);
    tcase_add_test(c, what_cannot_be_added_stays_two_lines);
    tcase_add_test(c, notes_and_packs_join_on_one_line);
    tcase_add_test(c, a_sum_that_cannot_be_held_stays_two_lines);
    tcase_add_test(c, aisles_and_packs_keep_lines_apart);
    tcase_add_test(c, what_has_no_aisle_stands_behind_the_aisles);
    tcase_add_test(c, a_weight_of_something_else_does_not_help);
    tcase_add_test(c, what_is_at_hand_is_not_bought);
    tcase_add_test(c, a_pantry_is_used_once);
    tcase_add_test(c, what_is_at_hand_is_told_as_it_is);
    tcase_add_test(c, aisles_group_and_substitutes_go_with_the_line);
    tcase_add_test(c, supplies_are_as_many_as_the_day_takes);
    tcase_add_test(c, vessels_are_counted_at_their_busiest);
    tcase_add_test(c, the_first_busiest_moment_is_told);
    tcase_add_test(c, an_amount_that_cannot_be_scaled_is_an_error_at_its_place);
    tcase_add_test(c, packs_past_what_can_be_held_are_an_error_at_their_place);
    tcase_add_test(c, every_request_for_memory_may_fail);
    tcase_add_test(c, a_line_for_a_cook_keeps_the_words_of_the_show);
    tcase_add_test(c, sizes_are_added_exactly);
    suite_add_tcase(s, c);
    return s;
}
