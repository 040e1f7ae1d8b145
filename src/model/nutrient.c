#include "model/nutrient.h"

#include <string.h>

#define MG INT64_C(1000000)
#define G  INT64_C(1000000000)

/* Daily values: 21 CFR 101.9(c)(8)(iv) and (c)(9) as revised in 2016, read in a list of November 2019
 * and a transcription of the section; tests/safety/claims.csv has the rows. */
#define RDI "101.9(c)(8)(iv)"
#define DRV "101.9(c)(9)"

const bpi_nutrient bpi_nutrients[BPI_NUTRIENTS] = {
    [BPI_ENERGY] = {"energy", 0, ""},
    [BPI_FAT] = {"fat", 78 * G, DRV},
    [BPI_SATURATED_FAT] = {"saturated fat", 20 * G, DRV},
    [BPI_TRANS_FAT] = {"trans fat", 0, ""},
    [BPI_CHOLESTEROL] = {"cholesterol", 300 * MG, DRV},
    [BPI_SODIUM] = {"sodium", 2300 * MG, DRV},
    [BPI_CARBOHYDRATE] = {"carbohydrate", 275 * G, DRV},
    [BPI_FIBER] = {"fiber", 28 * G, DRV},
    [BPI_SUGARS] = {"sugars", 0, ""},
    [BPI_ADDED_SUGARS] = {"added sugars", 50 * G, DRV},
    [BPI_PROTEIN] = {"protein", 50 * G, DRV},
    [BPI_VITAMIN_A] = {"vitamin A", 900000, RDI},
    [BPI_VITAMIN_C] = {"vitamin C", 90 * MG, RDI},
    [BPI_VITAMIN_D] = {"vitamin D", 20000, RDI},
    [BPI_VITAMIN_E] = {"vitamin E", 15 * MG, RDI},
    [BPI_VITAMIN_K] = {"vitamin K", 120000, RDI},
    [BPI_THIAMIN] = {"thiamin", 1200000, RDI},
    [BPI_RIBOFLAVIN] = {"riboflavin", 1300000, RDI},
    [BPI_NIACIN] = {"niacin", 16 * MG, RDI},
    [BPI_VITAMIN_B6] = {"vitamin B6", 1700000, RDI},
    [BPI_FOLATE] = {"folate", 400000, RDI},
    [BPI_VITAMIN_B12] = {"vitamin B12", 2400, RDI},
    [BPI_BIOTIN] = {"biotin", 30000, RDI},
    [BPI_PANTOTHENIC] = {"pantothenic acid", 5 * MG, RDI},
    [BPI_CHOLINE] = {"choline", 550 * MG, RDI},
    [BPI_CALCIUM] = {"calcium", 1300 * MG, RDI},
    [BPI_IRON] = {"iron", 18 * MG, RDI},
    [BPI_PHOSPHORUS] = {"phosphorus", 1250 * MG, RDI},
    [BPI_IODINE] = {"iodine", 150000, RDI},
    [BPI_MAGNESIUM] = {"magnesium", 420 * MG, RDI},
    [BPI_ZINC] = {"zinc", 11 * MG, RDI},
    [BPI_SELENIUM] = {"selenium", 55000, RDI},
    [BPI_COPPER] = {"copper", 900000, RDI},
    [BPI_MANGANESE] = {"manganese", 2300000, RDI},
    [BPI_CHROMIUM] = {"chromium", 35000, RDI},
    [BPI_MOLYBDENUM] = {"molybdenum", 45000, RDI},
    [BPI_CHLORIDE] = {"chloride", 2300 * MG, RDI},
    [BPI_POTASSIUM] = {"potassium", 4700 * MG, RDI},
};

void bpi_nutrition_init(bpi_nutrition *n)
{
    *n = (bpi_nutrition){.serving = BPI_NOT_STATED, .reference = BPI_NOT_STATED, .source = ""};
    for (int i = 0; i < BPI_NUTRIENTS; i++)
        n->amount[i] = BPI_NOT_STATED;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

#define PLACES 3 /* digits behind the point */

/* Digits, and up to three behind a point: the number in thousandths, and where it ends. */
static bool read_number(int64_t *out, size_t *end, const char *s, size_t len, bpi_fault *f,
                        const char *right)
{
    int64_t n = 0;
    size_t at = 0;
    int places = 0;
    for (; at < len && is_digit(s[at]); at++)
        if ((n = n * 10 + (s[at] - '0')) > 1000000)
            return bpi_fault_set(f, at, "write at most 1000000", "the number is too large");
    if (at == 0)
        return bpi_fault_set(f, 0, right, "it does not begin with a number");
    if (at < len && s[at] == '.') {
        size_t point = at++;
        for (; at < len && is_digit(s[at]); at++)
            if (++places <= PLACES)
                n = n * 10 + (s[at] - '0');
        if (places == 0 || places > PLACES)
            return bpi_fault_set(f, point, "write one to three digits behind the point",
                                 "%d digits stand behind the point", places);
    }
    for (; places < PLACES; places++)
        n *= 10;
    *out = n;
    *end = at + (at < len && s[at] == ' ');
    return true;
}

bool bpi_nutrient_read(int64_t *out, const char *text, size_t len, bool energy, bpi_fault *f)
{
    static const struct {
        const char *name;
        int64_t scale; /* of a thousandth */
        bool energy;
    } units[] = {{"kcal", 1, true},
                 {"g", MG, false},
                 {"mg", 1000, false},
                 {"mcg", 1, false},
                 {"\xC2\xB5g", 1, false}};
    const char *right = energy ? "write it like \"210 kcal\"" : "write it like \"120 mg\"";
    int64_t n = 0;
    size_t at = 0;
    if (!read_number(&n, &at, text, len, f, right))
        return false;
    for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
        size_t long_ = strlen(units[i].name);
        if (units[i].energy != energy || len - at != long_ ||
            memcmp(text + at, units[i].name, long_) != 0)
            continue;
        if (n > BPI_MAX_NUTRIENT / units[i].scale)
            return bpi_fault_set(f, 0, "write what is in one serving", "it is more than 1 kg");
        *out = n * units[i].scale;
        return true;
    }
    return bpi_fault_set(f, at, right, "its unit is not known");
}

bool bpi_serving_read(int64_t *out, const char *text, size_t len, bpi_fault *f)
{
    static const char right[] = "write it like \"330 g\"";
    int64_t n = 0;
    size_t at = 0;
    if (!read_number(&n, &at, text, len, f, right))
        return false;
    if (len - at != 1 || text[at] != 'g')
        return bpi_fault_set(f, at, right, "a serving is weighed in grams");
    if (n % 100 != 0)
        return bpi_fault_set(f, 0, right, "a serving is weighed to a tenth of a gram");
    if (n == 0 || n / 100 > BPI_MAX_SERVING)
        return bpi_fault_set(f, 0, "write more than 0 g, at most 2000 g",
                             "a serving cannot be %.*s", (int)len, text);
    *out = n / 100;
    return true;
}
