#include "model/weight.h"

#include <string.h>

#include "base/near.h"

const bpi_weight_row bpi_weight_rows[] = {
    {"Basil, fresh, chopped", "02044", "2 tbsp", "5.3 g"},
    {"Basil, fresh, leaves, whole", "02044", "1/4 cup", "6 g"},
    {"Beans, black, mature seeds, raw", "16014", "1 cup", "194 g"},
    {"Beans, kidney, red, mature seeds, raw", "16032", "1 cup", "184 g"},
    {"Bread crumbs, dry, grated, plain", "18079", "1 cup", "108 g"},
    {"Broccoli, raw, chopped", "11090", "1 cup", "91 g"},
    {"Broccoli, raw, chopped or diced", "11090", "1/2 cup", "44 g"},
    {"Butter, salted", "01001", "1 cup", "227 g"},
    {"Butter, without salt", "01145", "1 cup", "227 g"},
    {"Cabbage, raw, chopped", "11109", "1 cup", "89 g"},
    {"Cabbage, raw, shredded", "11109", "1 cup", "70 g"},
    {"Carrots, raw, chopped", "11124", "1 cup", "128 g"},
    {"Carrots, raw, grated", "11124", "1 cup", "110 g"},
    {"Carrots, raw, strips or slices", "11124", "1 cup", "122 g"},
    {"Catsup", "11935", "1 cup", "240 g"},
    {"Celery, raw", "11143", "1 tbsp", "7.5 g"},
    {"Celery, raw, chopped", "11143", "1 cup", "101 g"},
    {"Cereals, oats, regular and quick, not fortified, dry", "08120", "1 cup", "81 g"},
    {"Cheese, cheddar, diced", "01009", "1 cup", "132 g"},
    {"Cheese, cheddar, melted", "01009", "1 cup", "244 g"},
    {"Cheese, cheddar, shredded", "01009", "1 cup", "113 g"},
    {"Cheese, cream", "01017", "1 cup", "232 g"},
    {"Cheese, cream, whipped", "01017", "1 tbsp", "10 g"},
    {"Cheese, mozzarella, whole milk, shredded", "01026", "1 cup", "112 g"},
    {"Cheese, parmesan, grated", "01032", "1 cup", "100 g"},
    {"Cheese, ricotta, whole milk", "01036", "1 cup", "246 g"},
    {"Cocoa, dry powder, unsweetened", "19165", "1 cup", "86 g"},
    {"Cornmeal, degermed, enriched, yellow", "20022", "1 cup", "157 g"},
    {"Cornstarch", "20027", "1 cup", "128 g"},
    {"Cream, fluid, half and half", "01049", "1 cup", "242 g"},
    {"Cream, fluid, heavy whipping, fluid", "01053", "1 cup", "238 g"},
    {"Cream, fluid, heavy whipping, whipped", "01053", "1 cup", "120 g"},
    {"Cream, sour, cultured", "01056", "1 cup", "230 g"},
    {"Egg, whole, raw, fresh", "01123", "1 cup", "243 g"},
    {"Garlic, raw", "11215", "1 cup", "136 g"},
    {"Ginger root, raw", "11216", "1 tsp", "2 g"},
    {"Ginger root, raw, slices", "11216", "1/4 cup", "24 g"},
    {"Honey", "19296", "1 cup", "339 g"},
    {"Leavening agents, baking powder, double-acting, sodium aluminum sulfate", "18369", "1 tsp",
     "4.6 g"},
    {"Leavening agents, baking soda", "18372", "1 tsp", "4.6 g"},
    {"Leavening agents, yeast, baker's, active dry", "18375", "1 tbsp", "12 g"},
    {"Leeks, (bulb and lower leaf-portion), raw", "11246", "1 cup", "89 g"},
    {"Lemon juice, raw", "09152", "1 cup", "244 g"},
    {"Lentils, raw", "16069", "1 cup", "192 g"},
    {"Milk, buttermilk, fluid, cultured, lowfat", "01088", "1 cup", "245 g"},
    {"Milk, reduced fat, fluid, 2% milkfat, with added vitamin A and vitamin D", "01079", "1 cup",
     "244 g"},
    {"Milk, whole, 3.25% milkfat, with added vitamin D", "01077", "1 cup", "244 g"},
    {"Mushrooms, white, raw, pieces", "11260", "1/2 cup", "35 g"},
    {"Mushrooms, white, raw, pieces or slices", "11260", "1 cup", "70 g"},
    {"Mushrooms, white, raw, whole", "11260", "1 cup", "96 g"},
    {"Mustard, prepared, yellow", "02046", "1 cup", "249 g"},
    {"Nuts, almonds, ground", "12061", "1 cup", "95 g"},
    {"Nuts, almonds, sliced", "12061", "1 cup", "92 g"},
    {"Nuts, almonds, slivered", "12061", "1 cup", "108 g"},
    {"Nuts, almonds, whole", "12061", "1 cup", "143 g"},
    {"Nuts, walnuts, english, chopped", "12155", "1 cup", "117 g"},
    {"Nuts, walnuts, english, ground", "12155", "1 cup", "80 g"},
    {"Nuts, walnuts, english, in shell, edible yield", "12155", "1 cup", "28 g"},
    {"Nuts, walnuts, english, pieces or chips", "12155", "1 cup", "120 g"},
    {"Nuts, walnuts, english, shelled", "12155", "1 cup", "100 g"},
    {"Oil, olive, salad or cooking", "04053", "1 cup", "216 g"},
    {"Oil, soybean, salad or cooking", "04044", "1 cup", "218 g"},
    {"Onions, raw, chopped", "11282", "1 cup", "160 g"},
    {"Onions, raw, sliced", "11282", "1 cup", "115 g"},
    {"Parsley, fresh", "11297", "1 tbsp", "3.8 g"},
    {"Parsley, fresh, chopped", "11297", "1 cup", "60 g"},
    {"Pasta, dry, enriched, elbows", "20120", "1 cup", "122 g"},
    {"Pasta, dry, enriched, farfalle", "20120", "1 cup", "81 g"},
    {"Pasta, dry, enriched, lasagna", "20120", "1 cup", "90 g"},
    {"Pasta, dry, enriched, penne", "20120", "1 cup", "95 g"},
    {"Pasta, dry, enriched, rotini", "20120", "1 cup", "96 g"},
    {"Pasta, dry, enriched, shells", "20120", "1 cup", "64 g"},
    {"Pasta, dry, enriched, spaghetti", "20120", "1 cup", "91 g"},
    {"Peanut butter, smooth style, with salt", "16098", "1 cup", "258 g"},
    {"Peppers, sweet, green, raw", "11333", "1 tbsp", "9.3 g"},
    {"Peppers, sweet, green, raw, chopped", "11333", "1 cup", "149 g"},
    {"Peppers, sweet, green, raw, sliced", "11333", "1 cup", "92 g"},
    {"Potatoes, flesh and skin, raw, diced", "11352", "1/2 cup", "75 g"},
    {"Raisins, seedless", "09298", "1 cup", "145 g"},
    {"Raisins, seedless, packed", "09298", "1 cup", "165 g"},
    {"Rice, white, long-grain, regular, enriched, cooked", "20045", "1 cup", "158 g"},
    {"Rice, white, long-grain, regular, raw, enriched", "20044", "1 cup", "185 g"},
    {"Salad dressing, mayonnaise, regular", "04025", "1 cup", "220 g"},
    {"Salt, table", "02047", "1 cup", "292 g"},
    {"Shallots, raw, chopped", "11677", "1 tbsp", "10 g"},
    {"Shortening, vegetable, household, composite", "04615", "1 cup", "205 g"},
    {"Soup, stock, chicken, home-prepared", "06172", "1 cup", "240 g"},
    {"Soy sauce made from soy and wheat (shoyu)", "16123", "1 cup", "255 g"},
    {"Spices, cinnamon, ground", "02010", "1 tbsp", "7.8 g"},
    {"Spices, oregano, dried, ground", "02027", "1 tsp", "1.8 g"},
    {"Spices, oregano, dried, leaves", "02027", "1 tsp", "1 g"},
    {"Spices, paprika", "02028", "1 tbsp", "6.8 g"},
    {"Spices, pepper, black, ground", "02030", "1 tbsp", "6.9 g"},
    {"Spices, pepper, black, whole", "02030", "1 tsp", "2.9 g"},
    {"Spinach, raw", "11457", "1 cup", "30 g"},
    {"Sugars, brown, brownulated", "19334", "1 tsp", "3.2 g"},
    {"Sugars, brown, packed", "19334", "1 cup", "220 g"},
    {"Sugars, brown, unpacked", "19334", "1 cup", "145 g"},
    {"Sugars, granulated", "19335", "1 cup", "200 g"},
    {"Sugars, powdered", "19336", "1 tsp", "2.5 g"},
    {"Sugars, powdered, sifted", "19336", "1 cup", "100 g"},
    {"Sugars, powdered, unsifted", "19336", "1 cup", "120 g"},
    {"Syrups, corn, light", "19350", "1 cup", "341 g"},
    {"Syrups, maple", "19353", "1 cup", "315 g"},
    {"Tomato products, canned, paste, without salt added", "11546", "1 cup", "262 g"},
    {"Tomato products, canned, sauce", "11549", "1 cup", "245 g"},
    {"Tomatoes, red, ripe, raw, year round average, cherry tomatoes", "11529", "1 cup", "149 g"},
    {"Tomatoes, red, ripe, raw, year round average, chopped or sliced", "11529", "1 cup", "180 g"},
    {"Vanilla extract", "02050", "1 cup", "208 g"},
    {"Vinegar, cider", "02048", "1 cup", "239 g"},
    {"Vinegar, distilled", "02053", "1 cup", "238 g"},
    {"Wheat flour, white, all-purpose, enriched, bleached", "20081", "1 cup", "125 g"},
    {"Wheat flour, white, bread, enriched", "20083", "1 cup", "137 g"},
    {"Wheat flour, white, cake, enriched, unsifted, dipped", "20084", "1 cup", "137 g"},
    {"Wheat flour, whole-grain", "20080", "1 cup", "120 g"},
    {"Yogurt, plain, whole milk, 8 grams protein per 8 ounce", "01116", "1 cup", "245 g"},
};
const uint32_t bpi_weight_row_count = sizeof bpi_weight_rows / sizeof *bpi_weight_rows;

static bool known_amount(bpi_quantity *out, const char *text)
{
    bpi_fault none;
    return bpi_quantity_read(out, text, strlen(text), &none);
}

/* Does a row's name have the text in it, without regard to case? */
static bool has(const char *name, const char *text, size_t len)
{
    for (; strlen(name) >= len; name++)
        if (bpi_near_distance(name, len, text, len, 0) == 0)
            return true;
    return false;
}

static bool read_row(bpi_weight *out, const char *text, size_t len, bpi_fault *f)
{
    const char *likely = NULL;
    for (uint32_t i = 0; i < bpi_weight_row_count; i++) {
        const bpi_weight_row *row = &bpi_weight_rows[i];
        if (strlen(row->name) == len && memcmp(row->name, text, len) == 0) {
            out->number = row->number;
            return known_amount(&out->measure, row->measure) && known_amount(&out->mass, row->mass);
        }
        if (!likely && len && len < 64 && has(row->name, text, len))
            likely = row->name;
    }
    bpi_fault_set(f, 0,
                  "write what a measure of it weighs, such as \"1 cup = 125 g\", or a food as "
                  "`backpot schema` lists it",
                  "no published weight is known for \"%.*s\"", len < 60 ? (int)len : 60, text);
    return likely ? bpi_fault_right(f, "write \"%s\", or \"1 cup = 125 g\"", likely) : false;
}

/* One side of "1 cup = 125 g", which stands at `from`, without blanks around it. */
static bool read_side(bpi_quantity *out, const char *text, size_t from, size_t to, bpi_fault *f)
{
    while (from < to && text[from] == ' ')
        from++;
    while (to > from && text[to - 1] == ' ')
        to--;
    if (!bpi_quantity_read(out, text + from, to - from, f)) {
        f->at += from;
        return false;
    }
    return true;
}

bool bpi_weight_read(bpi_weight *out, const char *text, size_t len, bpi_fault *f)
{
    static const char *const right = "write it like \"1 cup = 125 g\" or \"1 clove = 3 g\"";
    bpi_weight w = {.number = NULL};
    const char *equals = memchr(text, '=', len);
    if (!equals) {
        if (!read_row(&w, text, len, f))
            return false;
        *out = w;
        return true;
    }
    size_t at = (size_t)(equals - text);
    if (!read_side(&w.measure, text, 0, at, f) || !read_side(&w.mass, text, at + 1, len, f))
        return false;
    bool plain = !w.measure.packs && !w.mass.packs && !w.mass.word[0];
    if (w.measure.dimension != BPI_VOLUME && w.measure.dimension != BPI_COUNT)
        return bpi_fault_set(f, 0, right, "before \"=\" stands a volume or a count");
    if (w.mass.dimension != BPI_MASS || !plain ||
        (w.measure.dimension == BPI_VOLUME && w.measure.word[0]))
        return bpi_fault_set(f, at + 1, right, "behind \"=\" stands a mass, and no packs anywhere");
    *out = w;
    return true;
}
