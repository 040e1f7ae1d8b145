/* Random words, deviations and lengths against what is published or known in closed form. */
#include <check.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "risk/philox.h"
#include "risk/shape.h"

/* Known answers of the generator's authors for philox4x32 with 10 rounds: file kat_vectors of
 * Random123, https://github.com/DEShawResearch/random123, with J. K. Salmon and others, "Parallel
 * random numbers: as easy as 1, 2, 3" (SC11, 2011). Read. */
static const struct {
    uint32_t counter[4], key[2], word[4];
} known[] = {
    {{0, 0, 0, 0}, {0, 0}, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
    {{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
     {0xffffffff, 0xffffffff},
     {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
    {{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
     {0xa4093822, 0x299f31d0},
     {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
};

START_TEST(words_are_those_of_the_publication)
{
    uint32_t word[4];
    bpi_philox(word, known[_i].counter, known[_i].key[0], known[_i].key[1]);
    ck_assert_mem_eq(word, known[_i].word, sizeof word);
}
END_TEST

/* ---- powers ------------------------------------------------------------------------------ */

START_TEST(powers_and_logarithms_agree_with_the_c_library)
{
    bpi_fix f;
    bpi_fix_init(&f);
    for (uint64_t x = 1; x < UINT64_C(1) << 40; x = x * 3 / 2 + 1)
        ck_assert_double_eq_tol((double)bpi_fix_log2(x) / (double)BPI_FIX_ONE, log2((double)x),
                                1e-8);
    for (int64_t y = -40 * BPI_FIX_ONE; y < 20 * BPI_FIX_ONE; y += BPI_FIX_ONE / 7) {
        bpi_float v = bpi_fix_exp2(&f, y);
        double want = exp2((double)y / (double)BPI_FIX_ONE);
        ck_assert_uint_ge(v.mantissa, UINT32_C(1) << 31);
        ck_assert_double_eq_tol(ldexp(v.mantissa, v.exponent - 31) / want, 1, 1.0 / (1 << 25));
    }
    ck_assert_uint_eq(bpi_fix_sqrt(0), 0);
    ck_assert_uint_eq(bpi_fix_sqrt(99), 9);
    ck_assert_uint_eq(bpi_fix_sqrt(UINT64_MAX), UINT32_MAX);
}
END_TEST

/* ---- deviations -------------------------------------------------------------------------- */

/* Chance below z by the C library's complementary error function. */
static double below(double z)
{
    return erfc(-z / sqrt(2)) / 2;
}

START_TEST(a_deviation_has_the_chance_of_its_word)
{
    static bpi_fix f;
    static bpi_normal n;
    bpi_fix_init(&f);
    bpi_normal_init(&n, &f);
    for (uint64_t u = 1 << 12; u < UINT64_C(1) << 32; u += 999983) {
        double p = ((double)u + 0.5) / 4294967296.0;
        double z = bpi_normal_z(&n, (uint32_t)u) / 65536.0;
        /* Straight lines err most in the widest cells, far out. */
        ck_assert_msg(fabs(below(z) - p) < 2e-5, "word %llu: chance %.9f, not %.9f",
                      (unsigned long long)u, below(z), p);
    }
    ck_assert_int_eq(bpi_normal_z(&n, 0), -bpi_normal_z(&n, UINT32_MAX));
    /* Two figures of every table of the normal distribution: 1.96 and 2.5758 (from memory). */
    ck_assert_double_eq_tol(bpi_normal_z(&n, 4187593114u) / 65536.0, 1.95996, 2e-4);
    ck_assert_double_eq_tol(bpi_normal_z(&n, 4273492460u) / 65536.0, 2.57583, 4e-4);
}
END_TEST

START_TEST(the_grid_has_the_chances_of_the_normal_distribution)
{
    static bpi_fix f;
    static bpi_normal n;
    bpi_fix_init(&f);
    bpi_normal_init(&n, &f);
    for (int k = 64; k < BPI_Z_CELLS / 2; k++) { /* from -7 */
        double z = k / 64.0 - 8, p = ldexp(n.below[k].mantissa, n.below[k].exponent - 31);
        ck_assert_msg(fabs(p / below(z) - 1) < 1e-3, "z %g: %g, not %g", z, p, below(z));
    }
}
END_TEST

/* ---- lengths ----------------------------------------------------------------------------- */

static bpi_arena *arena;
static bpi_shapes shapes;

static void open_shapes(void)
{
    arena = bpi_arena_new();
    bpi_shapes_init(&shapes);
}

static void close_shapes(void)
{
    bpi_arena_free(arena);
}

static const bp_risk_activity lengths[] = {
    {.low = 4000, .likely = 5000, .high = 12000},   {.low = 0, .likely = 0, .high = 9000},
    {.low = 100, .likely = 900100, .high = 900100}, {.low = 3000, .likely = 9000, .high = 15000},
    {.low = 1000, .likely = 10000, .high = 17000},  {.low = 7, .likely = 8, .high = 9},
};

/* Triangular: (x-a)^2 / ((b-a)(m-a)) up to the likely length, 1 - (b-x)^2 / ((b-a)(b-m)) above. */
static double triangle_below(const bp_risk_activity *t, double x)
{
    double a = t->low, m = t->likely, b = t->high;
    return x <= m && m > a ? (x - a) * (x - a) / ((b - a) * (m - a))
                           : 1 - (b - x) * (b - x) / ((b - a) * (b - m));
}

START_TEST(a_triangle_has_the_chances_of_its_closed_form)
{
    bp_risk_activity t = lengths[_i];
    t.shape = BP_RISK_TRIANGLE;
    const int32_t *table = bpi_shape_make(&shapes, arena, &t);
    double cell = 2.0 / BPI_SHAPE_CELLS + 1.0 / (t.high - t.low); /* half a unit each way */
    for (int32_t z = -3 * 65536; z <= 3 * 65536; z += 997) {
        int32_t x = bpi_shape_length(table, z);
        ck_assert_int_ge(x, t.low);
        ck_assert_int_le(x, t.high);
        ck_assert_double_eq_tol(triangle_below(&t, x), below(z / 65536.0), cell);
    }
}
END_TEST

/* Sum over the normal density, in steps of a thousandth. */
static void moments(const int32_t *table, double *mean, double *variance)
{
    double w = 0, x1 = 0, x2 = 0;
    for (int i = -7999; i < 8000; i++) {
        double z = i / 1000.0, p = exp(-z * z / 2);
        double x = bpi_shape_length(table, (int32_t)floor(z * 65536));
        w += p;
        x1 += p * x;
        x2 += p * x * x;
    }
    *mean = x1 / w;
    *variance = x2 / w - x1 / w * x1 / w;
}

/* PERT: mean (a + 4m + b) / 6 (Anderson and others, An Introduction to Management Science, 2014, eq.
 * 9.4, read); variance (mean - a)(b - mean) / 7, which follows from the shapes of the beta
 * distribution. Triangle: (a + m + b) / 3 and (a2 + m2 + b2 - am - ab - mb) / 18, a standard result
 * (from memory). Rounding to whole units adds 1/12. */
START_TEST(mean_and_variance_are_those_of_the_formulas)
{
    bp_risk_activity t = lengths[_i / 2];
    t.shape = _i % 2 ? BP_RISK_TRIANGLE : BP_RISK_PERT;
    const int32_t *table = bpi_shape_make(&shapes, arena, &t);
    double a = t.low, m = t.likely, b = t.high, mean, variance;
    double want_mean = t.shape == BP_RISK_PERT ? (a + 4 * m + b) / 6 : (a + m + b) / 3;
    double want_variance = t.shape == BP_RISK_PERT
                               ? (want_mean - a) * (b - want_mean) / 7
                               : (a * a + m * m + b * b - a * m - a * b - m * b) / 18;
    moments(table, &mean, &variance);
    ck_assert_msg(fabs(mean - want_mean) < 1e-4 * (b - a) + 0.002, "mean %.3f, not %.3f", mean,
                  want_mean);
    ck_assert_msg(fabs(variance - want_variance) < 2e-3 * want_variance + 0.1,
                  "variance %.3f, not %.3f", variance, want_variance);
}
END_TEST

Suite *suite_risk_draws(void);
Suite *suite_risk_draws(void)
{
    Suite *s = suite_create("risk/draws");
    TCase *t = tcase_create("all");
    tcase_add_checked_fixture(t, open_shapes, close_shapes);
    tcase_add_loop_test(t, words_are_those_of_the_publication, 0, 3);
    tcase_add_test(t, powers_and_logarithms_agree_with_the_c_library);
    tcase_add_test(t, a_deviation_has_the_chance_of_its_word);
    tcase_add_test(t, the_grid_has_the_chances_of_the_normal_distribution);
    tcase_add_loop_test(t, a_triangle_has_the_chances_of_its_closed_form, 0, 6);
    tcase_add_loop_test(t, mean_and_variance_are_those_of_the_formulas, 0, 12);
    suite_add_tcase(s, t);
    return s;
}
