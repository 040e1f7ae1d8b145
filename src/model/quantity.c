#include "model/quantity.h"

#include <stdio.h>
#include <string.h>

#include "base/near.h"
#include "base/utf8.h"

/* Spellings of the units that would else be taken for counting words. */
static const struct {
    const char *other, *name;
} others[] = {
    {"c", "cup"},
    {"floz", "fl oz"},
    {"gal", "gallon"},
    {"gals", "gallon"},
    {"gr", "g"},
    {"gm", "g"},
    {"gms", "g"},
    {"gram", "g"},
    {"grams", "g"},
    {"kgs", "kg"},
    {"kilo", "kg"},
    {"kilos", "kg"},
    {"kilogram", "kg"},
    {"kilograms", "kg"},
    {"lbs", "lb"},
    {"liter", "l"},
    {"liters", "l"},
    {"litre", "l"},
    {"litres", "l"},
    {"mililiter", "ml"},
    {"milliliter", "ml"},
    {"milliliters", "ml"},
    {"millilitre", "ml"},
    {"millilitres", "ml"},
    {"mls", "ml"},
    {"ounce", "oz"},
    {"ounces", "oz"},
    {"ozs", "oz"},
    {"pound", "lb"},
    {"pounds", "lb"},
    {"pt", "pint"},
    {"pts", "pint"},
    {"qt", "quart"},
    {"qts", "quart"},
    {"t", "tsp\" or \"tbsp"},
    {"tablespoon", "tbsp"},
    {"tablespoons", "tbsp"},
    {"tbs", "tbsp"},
    {"tbsps", "tbsp"},
    {"tblsp", "tbsp"},
    {"teaspoon", "tsp"},
    {"teaspoons", "tsp"},
    {"tsps", "tsp"},
};

static const struct {
    const char *s;
    int64_t num, den;
} signs[] = {
    {"\xC2\xBC", 1, 4},     {"\xC2\xBD", 1, 2},      {"\xC2\xBE", 3, 4},     {"\xE2\x85\x90", 1, 7},
    {"\xE2\x85\x91", 1, 9}, {"\xE2\x85\x92", 1, 10}, {"\xE2\x85\x93", 1, 3}, {"\xE2\x85\x94", 2, 3},
    {"\xE2\x85\x95", 1, 5}, {"\xE2\x85\x96", 2, 5},  {"\xE2\x85\x97", 3, 5}, {"\xE2\x85\x98", 4, 5},
    {"\xE2\x85\x99", 1, 6}, {"\xE2\x85\x9A", 5, 6},  {"\xE2\x85\x9B", 1, 8}, {"\xE2\x85\x9C", 3, 8},
    {"\xE2\x85\x9D", 5, 8}, {"\xE2\x85\x9E", 7, 8},
};

typedef struct cursor {
    const char *s;
    size_t at, len;
    bpi_fault *f;
} cursor;

static bool is_digit(const cursor *c, size_t at)
{
    return at < c->len && c->s[at] >= '0' && c->s[at] <= '9';
}

static bool take(cursor *c, const char *text)
{
    size_t n = strlen(text);
    if (c->len - c->at < n || memcmp(c->s + c->at, text, n) != 0)
        return false;
    c->at += n;
    return true;
}

static int64_t digits(cursor *c)
{
    int64_t n = 0;
    for (; is_digit(c, c->at); c->at++)
        n = n > BPI_MAX_AMOUNT ? n : n * 10 + (c->s[c->at] - '0');
    return n;
}

static bool take_sign(cursor *c, int64_t *num, int64_t *den)
{
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (take(c, signs[i].s)) {
            *num = signs[i].num;
            *den = signs[i].den;
            return true;
        }
    return false;
}

static bool take_slash(cursor *c)
{
    return take(c, "/") || take(c, "\xE2\x81\x84"); /* also the fraction slash U+2044 */
}

static bool take_dash(cursor *c)
{
    cursor d = *c;
    take(&d, " ");
    if (!take(&d, "-") && !take(&d, "\xE2\x80\x93"))
        return false;
    *c = d;
    return true;
}

static bool read_den(cursor *c, int64_t *den)
{
    size_t at = c->at;
    *den = digits(c);
    if (*den < 1 || *den > BPI_MAX_DEN)
        return bpi_fault_set(c->f, at, "write a fraction like \"1/2\"",
                             "the lower half of the fraction is not from 1 to 10000");
    return true;
}

static int64_t divisor(int64_t a, int64_t b)
{
    while (b) {
        int64_t r = a % b;
        a = b;
        b = r;
    }
    return a;
}

/* "1 1/2", "1/2", "½", "1½", "0.5", "3"; whole + num/den. */
static bool read_number(cursor *c, int64_t *num, int64_t *den)
{
    size_t from = c->at;
    int64_t whole = 0, n = 0, d = 1;
    if (!take_sign(c, &n, &d)) {
        if (!is_digit(c, c->at)) {
            if (take(c, "-") || take(c, "\xE2\x88\x92"))
                return bpi_fault_set(c->f, from, "write it without the minus sign",
                                     "an amount cannot be negative");
            return bpi_fault_set(c->f, from, "write it like \"1 1/2 cup\", \"400 g\" or \"3\"",
                                 "an amount begins with a number");
        }
        whole = digits(c);
        if (take(c, ",") || (take(c, ".") && !is_digit(c, c->at)))
            return bpi_fault_set(c->f, c->at - 1, "write a decimal number like \"0.5\"",
                                 "the number is not readable");
        if (c->s[c->at - 1] == '.') {
            for (; is_digit(c, c->at); c->at++, d *= 10) {
                if (d == BPI_MAX_DEN)
                    return bpi_fault_set(c->f, c->at, "write it shorter, or as a fraction",
                                         "an amount has at most four digits after the point");
                n = n * 10 + (c->s[c->at] - '0');
            }
        } else if (take_slash(c)) {
            n = whole;
            whole = 0;
            if (!read_den(c, &d))
                return false;
        } else if (!take_sign(c, &n, &d)) {
            cursor ahead = *c; /* "1 1/2" or "1 ½", but not "2 400 g" */
            if (take(&ahead, " ") && (is_digit(&ahead, ahead.at) || take_sign(&ahead, &n, &d))) {
                if (d == 1) {
                    n = digits(&ahead);
                    if (!take_slash(&ahead))
                        return bpi_fault_set(c->f, c->at, "for packs write \"2 x 400 g can\"",
                                             "two numbers stand side by side");
                    if (!read_den(&ahead, &d))
                        return false;
                }
                if (n >= d)
                    return bpi_fault_set(c->f, c->at, "write it like \"1 1/2\"",
                                         "the fraction behind a whole number is 1 or more");
                *c = ahead;
            }
        }
    }
    if (whole > BPI_MAX_AMOUNT || n / d > BPI_MAX_AMOUNT)
        return bpi_fault_set(c->f, from, "at most 100000; choose a larger unit",
                             "the number is absurdly large");
    n += whole * d;
    if (n == 0)
        return bpi_fault_set(c->f, from, "leave it out where nothing is needed",
                             "an amount is above 0");
    int64_t g = divisor(n, d);
    *num = n / g;
    *den = d / g;
    cursor ahead = *c;
    if (take_dash(&ahead) && (take(&ahead, " ") || true) &&
        (is_digit(&ahead, ahead.at) || take_sign(&ahead, &n, &d)))
        return bpi_fault_set(c->f, c->at, "write one amount; the larger is the safe one to buy",
                             "an amount cannot be a range");
    return true;
}

static bool same(const char *name, const char *s, size_t len)
{
    return strlen(name) == len && memcmp(name, s, len) == 0;
}

/* One word: letters and what is no ASCII at all, hyphens inside. */
static size_t word_end(const cursor *c)
{
    size_t i = c->at;
    while (i < c->len) {
        char ch = c->s[i];
        bool in = (ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z') || (ch & 0x80) ||
                  (i > c->at && (ch == '-' || ch == '\''));
        if (!in)
            break;
        i++;
    }
    return i;
}

/* Index of a unit by its name at the cursor; bpi_unit_count: none. "fl oz" is two words. */
static uint32_t take_unit(cursor *c)
{
    if (take(c, "fl oz")) {
        if (word_end(c) == c->at)
            for (uint32_t i = 0; i < bpi_unit_count; i++)
                if (strcmp(bpi_units[i].name, "fl oz") == 0)
                    return i;
        c->at -= strlen("fl oz");
    }
    const char *s = c->s + c->at;
    size_t len = word_end(c) - c->at;
    char small[8];
    if (len >= 1 && len <= 2 && s[len - 1] == 'L') { /* the SI has both: l and L, ml and mL */
        memcpy(small, s, len);
        small[len - 1] = 'l';
        s = small;
    }
    for (uint32_t i = 1; i < bpi_unit_count; i++)
        if (same(bpi_units[i].name, s, len) || same(bpi_units[i].plural, s, len)) {
            c->at += len;
            return i;
        }
    return bpi_unit_count;
}

static bool read_word(cursor *c, bpi_quantity *q)
{
    size_t from = c->at, end = word_end(c);
    const char *s = c->s + from;
    size_t len = end - from;
    int shown = len < 20 ? (int)len : 20;
    if (len == 0)
        return bpi_fault_set(c->f, from, "write a number, then a unit, such as \"400 g\"",
                             "\"%.*s\" cannot follow an amount",
                             (int)(c->len - from < 20 ? c->len - from : 20), s);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (bpi_near_distance(others[i].other, strlen(others[i].other), s, len, 0) == 0) {
            bpi_fault_set(c->f, from, "", "unit \"%.*s\" is not known", shown, s);
            return bpi_fault_right(c->f, "write \"%s\"", others[i].name);
        }
    for (uint32_t i = 1; i < bpi_unit_count; i++) /* "CUP", "Tbsp", "KG" */
        if (bpi_near_distance(bpi_units[i].name, strlen(bpi_units[i].name), s, len, 0) == 0) {
            bpi_fault_set(c->f, from, "", "unit \"%.*s\" is not known", shown, s);
            return bpi_fault_right(c->f, "write \"%s\"", bpi_units[i].name);
        }
    static const char *const close[] = {"tbsp", "quart", "gallon"}; /* no food is near them */
    for (size_t i = 0; i < sizeof close / sizeof *close; i++)
        if (bpi_near_distance(close[i], strlen(close[i]), s, len, 1) <= 1) {
            bpi_fault_set(c->f, from, "", "unit \"%.*s\" is not known", shown, s);
            return bpi_fault_right(c->f, "write \"%s\"", close[i]);
        }
    if (len >= sizeof q->word)
        return bpi_fault_set(c->f, from, "use a shorter word, and say more in \"note\"",
                             "the counting word has more than 23 bytes");
    memcpy(q->word, s, len);
    q->word[len] = '\0';
    c->at = end;
    return true;
}

static bool read_quantity(cursor *c, bpi_quantity *q)
{
    if (!read_number(c, &q->num, &q->den))
        return false;
    cursor ahead = *c;
    take(&ahead, " ");
    if (take(&ahead, "\xC3\x97") || (take(&ahead, "x") && word_end(&ahead) == ahead.at)) {
        if (q->den != 1 || q->num > BPI_MAX_PACKS)
            return bpi_fault_set(c->f, 0, "write it like \"2 x 400 g can\"",
                                 "the count of packs is a whole number up to 1000");
        q->packs = (uint32_t)q->num;
        *c = ahead;
        take(c, " ");
        if (!read_number(c, &q->num, &q->den))
            return false;
    }
    q->dimension = BPI_COUNT;
    if (c->at == c->len && !q->packs)
        return true;
    take(c, " ");
    uint32_t u = take_unit(c);
    if (u < bpi_unit_count) {
        q->unit = u;
        q->dimension = bpi_units[u].dimension;
    }
    if (q->packs && (u == bpi_unit_count || q->dimension == BPI_COUNT))
        return bpi_fault_set(c->f, c->at, "write it like \"2 x 400 g can\"",
                             "behind packs stands an amount in a unit of mass or volume");
    if (u == bpi_unit_count)
        return read_word(c, q);
    if (q->dimension != BPI_COUNT && c->at < c->len && take(c, " ")) {
        cursor word = *c;
        uint32_t counted = take_unit(&word); /* "can" is in the table; it is a word here */
        if (counted < bpi_unit_count && bpi_units[counted].dimension == BPI_COUNT) {
            snprintf(q->word, sizeof q->word, "%s", bpi_units[counted].name);
            *c = word;
            return true;
        }
        return read_word(c, q);
    }
    return true;
}

bool bpi_quantity_read(bpi_quantity *out, const char *text, size_t len, bpi_fault *f)
{
    bpi_quantity q = {.dimension = BPI_NO_AMOUNT, .den = 1};
    if (len) {
        cursor c = {text, 0, len, f};
        if (!read_quantity(&c, &q))
            return false;
        if (c.at != len)
            return bpi_fault_set(f, c.at, "say more in \"note\"",
                                 "\"%.*s\" cannot follow an amount",
                                 (int)(len - c.at < 20 ? len - c.at : 20), text + c.at);
    }
    *out = q;
    return true;
}

bool bpi_fraction_read(int64_t *num, int64_t *den, const char *text, size_t len, bpi_fault *f)
{
    cursor c = {text, 0, len, f};
    int64_t n = 0, d = 1;
    if (!read_number(&c, &n, &d))
        return false;
    if (c.at != len)
        return bpi_fault_set(f, c.at, "write a plain number like \"1/2\"",
                             "nothing can follow the number");
    *num = n;
    *den = d;
    return true;
}
