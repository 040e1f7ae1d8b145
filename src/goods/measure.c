#include "goods/measure.h"

#include <assert.h>
#include <inttypes.h>
#include <string.h>

/* ---- exact fractions ----------------------------------------------------------------------- */

static int64_t divisor(int64_t a, int64_t b)
{
    while (b) {
        int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* a/b times c/d, all above 0, in lowest terms. false: one of the results does not fit. */
static bool multiply(int64_t *num, int64_t *den, int64_t a, int64_t b, int64_t c, int64_t d)
{
    int64_t ab = divisor(a, b), cd = divisor(c, d);
    a /= ab;
    b /= ab;
    c /= cd;
    d /= cd;
    int64_t ad = divisor(a, d), cb = divisor(c, b), n, m;
    if (__builtin_mul_overflow(a / ad, c / cb, &n) || __builtin_mul_overflow(b / cb, d / ad, &m))
        return false;
    *num = n;
    *den = m;
    return true;
}

static int64_t ceiling(int64_t num, int64_t den)
{
    return num / den + (num % den != 0);
}

/* ---- arithmetic ---------------------------------------------------------------------------- */

static bool is_customary(const char *unit)
{
    static const char *const names[] = {"oz",  "lb",   "tsp",   "tbsp",  "fl oz",
                                        "cup", "pint", "quart", "gallon"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(names[i], unit) == 0)
            return true;
    return false;
}

bool bpi_measure_of(bpi_measure *out, const bpi_quantity *q)
{
    bpi_measure m = {.dimension = q->dimension, .word = q->word, .den = 1};
    if (q->dimension != BPI_NO_AMOUNT) {
        static const bpi_unit piece = {.name = "", .num = 1, .den = 1};
        const bpi_unit *u = q->dimension == BPI_COUNT ? &piece : &bpi_units[q->unit];
        bool held = multiply(&m.num, &m.den, q->num, q->den, u->num, u->den);
        assert(held); /* BPI_MAX_AMOUNT gallons in parts of 1/BPI_MAX_DEN: 4e18 nanolitres */
        (void)held;
        m.customary = is_customary(u->name);
    }
    if (q->dimension == BPI_COUNT) {
        m.unit = q->unit;
    } else if (q->packs || q->word[0]) {
        m.each_num = m.num;
        m.each_den = m.den;
        if (!multiply(&m.num, &m.den, m.num, m.den, q->packs ? q->packs : 1, 1))
            return false;
    }
    *out = m;
    return true;
}

void bpi_measure_of_plain(bpi_measure *out, const bpi_quantity *q)
{
    assert(!q->packs);
    bool held = bpi_measure_of(out, q);
    assert(held);
    (void)held;
}

bool bpi_measure_scale(bpi_measure *m, uint32_t num, uint32_t den)
{
    return m->dimension == BPI_NO_AMOUNT || multiply(&m->num, &m->den, m->num, m->den, num, den);
}

bool bpi_measure_weigh(bpi_measure *m, const bpi_weight *weight)
{
    bpi_measure one, mass;
    bpi_measure_of_plain(&one, &weight->measure);
    bpi_measure_of_plain(&mass, &weight->mass);
    if (one.dimension == BPI_NO_AMOUNT || !bpi_measure_alike(m, &one) ||
        !multiply(&one.num, &one.den, m->num, m->den, one.den, one.num) ||
        !multiply(&mass.num, &mass.den, one.num, one.den, mass.num, mass.den))
        return false;
    if (m->dimension == BPI_VOLUME) /* cups go on as ounces, millilitres as grams */
        mass.customary = m->customary;
    *m = mass;
    return true;
}

bool bpi_measure_take(bpi_measure *need, bpi_measure *there)
{
    int64_t g = divisor(need->den, there->den), left, right, den, rest;
    if (__builtin_mul_overflow(need->num, there->den / g, &left) ||
        __builtin_mul_overflow(there->num, need->den / g, &right) ||
        __builtin_mul_overflow(need->den, there->den / g, &den))
        return true;
    bool more = left > right;
    rest = more ? left - right : right - left;
    g = rest ? divisor(rest, den) : den;
    need->num = more ? rest / g : 0;
    need->den = more ? den / g : 1;
    there->num = more ? 0 : rest / g;
    there->den = more ? 1 : den / g;
    return more;
}

bool bpi_measure_alike(const bpi_measure *a, const bpi_measure *b)
{
    return a->dimension == b->dimension && a->unit == b->unit && strcmp(a->word, b->word) == 0 &&
           a->each_num == b->each_num && a->each_den == b->each_den;
}

bool bpi_measure_add(bpi_measure *sum, const bpi_measure *more)
{
    if (sum->dimension == BPI_NO_AMOUNT)
        return true;
    /* a/b + c/d = (a (d/g) + c (b/g)) / (b (d/g)) with g the greatest common divisor of b and d */
    int64_t g = divisor(sum->den, more->den), left, right, num, den;
    if (__builtin_mul_overflow(sum->num, more->den / g, &left) ||
        __builtin_mul_overflow(more->num, sum->den / g, &right) ||
        __builtin_add_overflow(left, right, &num) ||
        __builtin_mul_overflow(sum->den, more->den / g, &den))
        return false;
    g = divisor(num, den);
    sum->num = num / g;
    sum->den = den / g;
    sum->customary = sum->customary && more->customary;
    return true;
}

int64_t bpi_measure_packs(const bpi_measure *need, const bpi_measure *pack)
{
    int64_t num, den;
    /* A pack may be put in a word ("400 g can") where the need is plain ("700 g"). */
    bool same_count = need->dimension != BPI_COUNT ||
                      (need->unit == pack->unit && strcmp(need->word, pack->word) == 0);
    bool other_packs = need->each_num && pack->each_num && !bpi_measure_alike(need, pack);
    if (need->dimension != pack->dimension || need->dimension == BPI_NO_AMOUNT || !same_count ||
        other_packs || !multiply(&num, &den, need->num, need->den, pack->den, pack->num))
        return 0;
    return ceiling(num, den);
}

/* ---- printing ------------------------------------------------------------------------------ */

/* A number of a customary unit whose fraction a cook has a spoon or a mark for. */
typedef struct mixed {
    int64_t whole;
    int num, den; /* 0/1: none */
} mixed;

static const struct {
    int num, den;
} marks[] = {{0, 1}, {1, 8}, {1, 4}, {1, 3}, {1, 2}, {2, 3}, {3, 4}};

/* num/den rounded up to such a number. false: out of range for the comparison. */
static bool round_up(mixed *out, int64_t num, int64_t den)
{
    if (den > INT64_MAX / 8)
        return false;
    int64_t rest = num % den;
    out->whole = num / den;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (marks[i].num * den >= rest * marks[i].den) {
            out->num = marks[i].num;
            out->den = marks[i].den;
            return true;
        }
    *out = (mixed){out->whole + 1, 0, 1};
    return true;
}

/* Append one part of a sum: " + " before all but the first, a number, a unit. Nothing for 0. */
static void put_part(bpi_text *out, bool *first, mixed n, const char *one, const char *many)
{
    if (n.whole == 0 && n.num == 0)
        return;
    if (!*first)
        bpi_text_put(out, " + ");
    *first = false;
    if (n.whole)
        bpi_text_f(out, "%" PRId64, n.whole);
    if (n.num)
        bpi_text_f(out, "%s%d/%d", n.whole ? " " : "", n.num, n.den);
    const char *unit = n.whole > 1 || (n.whole == 1 && n.num) ? many : one;
    bpi_text_f(out, "%s%s", unit[0] ? " " : "", unit);
}

/* Quarts and cups in place of pints, and thirds of a cup only where nothing is left over, as American
 * kitchens print it: 3/8 cup is 1/4 cup and 2 tbsp, not 1/3 cup and 2 tsp. */
static bool put_spoons(bpi_text *out, int64_t num, int64_t den)
{
    mixed tsp;
    int64_t n, d;
    if (!multiply(&n, &d, num, den, 32, 157725491) || !round_up(&tsp, n, d)) /* nl to tsp */
        return false;
    int64_t cups = tsp.whole / 48, rest = tsp.whole % 48;
    mixed cup = {0, 0, 1};
    if (rest % 16 == 0 && !tsp.num) {
        cup = (mixed){0, (int)(rest / 16), 3};
        rest = 0;
    } else if (rest >= 12) {
        static const mixed quarters[] = {{0, 0, 1}, {0, 1, 4}, {0, 1, 2}, {0, 3, 4}};
        cup = quarters[rest / 12];
        rest %= 12;
    }
    cup.whole = cups % 4;
    bool first = true;
    put_part(out, &first, (mixed){cups / 16, 0, 1}, "gallon", "gallons");
    put_part(out, &first, (mixed){cups / 4 % 4, 0, 1}, "quart", "quarts");
    put_part(out, &first, cup, "cup", "cups");
    put_part(out, &first, (mixed){rest / 3, 0, 1}, "tbsp", "tbsp");
    put_part(out, &first, (mixed){rest % 3, tsp.num, tsp.den}, "tsp", "tsp");
    return true;
}

static bool put_pounds(bpi_text *out, int64_t num, int64_t den)
{
    mixed oz;
    int64_t n, d;
    if (!multiply(&n, &d, num, den, 8, 226796185) || !round_up(&oz, n, d)) /* ug to oz */
        return false;
    bool first = true;
    put_part(out, &first, (mixed){oz.whole / 16, 0, 1}, "lb", "lb");
    oz.whole %= 16;
    put_part(out, &first, oz, "oz", "oz");
    return true;
}

/* n/1000 without trailing zeros. */
static void put_thousandths(bpi_text *out, int64_t n)
{
    bpi_text_f(out, "%" PRId64, n / 1000);
    int rest = (int)(n % 1000);
    if (rest % 100 == 0 && rest)
        bpi_text_f(out, ".%d", rest / 100);
    else if (rest % 10 == 0 && rest)
        bpi_text_f(out, ".%02d", rest / 10);
    else if (rest)
        bpi_text_f(out, ".%03d", rest);
}

/* num/den millionths of a gram or millilitre. */
static void put_metric(bpi_text *out, int64_t num, int64_t den, bool mass)
{
    int64_t millionths = ceiling(num, den), whole = ceiling(millionths, 1000000);
    if (mass && millionths <= 99000) {
        bpi_text_f(out, "%" PRId64 " mg", ceiling(millionths, 1000));
    } else if (millionths <= 9900000) {
        put_thousandths(out, ceiling(millionths, 100000) * 100);
        bpi_text_put(out, mass ? " g" : " ml");
    } else if (whole < 1000) {
        bpi_text_f(out, "%" PRId64 "%s", whole, mass ? " g" : " ml");
    } else {
        put_thousandths(out, whole);
        bpi_text_put(out, mass ? " kg" : " l");
    }
}

static void put_amount(bpi_text *out, const bpi_measure *m, int64_t num, int64_t den)
{
    bool done = m->customary &&
                (m->dimension == BPI_MASS ? put_pounds(out, num, den) : put_spoons(out, num, den));
    if (!done)
        put_metric(out, num, den, m->dimension == BPI_MASS);
}

/* A plain number: its own fraction where a person can read it, else up to the next mark. */
static mixed number(int64_t num, int64_t den)
{
    mixed n = {num / den, 0, 1};
    if (den <= 16)
        return (mixed){num / den, (int)(num % den), (int)den};
    if (!round_up(&n, num, den))
        n.whole++;
    return n;
}

void bpi_measure_put(bpi_text *out, const bpi_measure *m)
{
    if (m->dimension == BPI_NO_AMOUNT) {
        bpi_text_put(out, "to taste");
    } else if (m->each_num) {
        int64_t num, den;
        bool first = true;
        bool told = multiply(&num, &den, m->num, m->den, m->each_den, m->each_num);
        if (told && num != den) {
            put_part(out, &first, number(num, den), "", "");
            bpi_text_put(out, " x ");
        }
        /* How many is past what can be held: all of it as one, "1.25 kg can". */
        put_amount(out, m, told ? m->each_num : m->num, told ? m->each_den : m->den);
        bpi_text_f(out, "%s%s", m->word[0] ? " " : "", m->word);
    } else if (m->dimension == BPI_COUNT) {
        bool first = true;
        const bpi_unit *u = &bpi_units[m->unit];
        bool own = m->word[0] != '\0';
        put_part(out, &first, number(m->num, m->den), own ? m->word : u->name,
                 own ? m->word : u->plural);
    } else {
        put_amount(out, m, m->num, m->den);
    }
}

void bpi_measure_put_packs(bpi_text *out, int64_t packs, const bpi_measure *pack)
{
    bpi_measure all = *pack;
    bool one = pack->dimension == BPI_COUNT && pack->num == pack->den; /* "1 bunch" */
    bool many = pack->each_num && (pack->num != pack->each_num || pack->den != pack->each_den);
    if (one) {
        all.num = packs;
        all.den = 1;
    } else {
        bpi_text_f(out, "%" PRId64 " x %s", packs, many ? "(" : "");
    }
    bpi_measure_put(out, &all);
    if (many)
        bpi_text_char(out, ')');
}
