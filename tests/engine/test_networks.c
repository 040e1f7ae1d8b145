/* Published project networks, worked by hand in their sources: forward pass, backward pass, slack
 * and completion. Without resources the engine has to agree with every figure.
 *
 * Times are in sixths of the source's unit: an expected time is (a + 4m + b) / 6. */
#include <check.h>
#include <string.h>

#include "backpot/engine.h"
#include "support/small_problem.h"

typedef struct row {
    const char *network, *name;
    int32_t length;
    uint32_t after[4]; /* rows of the same network, counted from 1; 0: none */
    int32_t early_start, late_start, late_finish;
} row;

static const row table[] = {
    /* porta-vac: Anderson et al., An Introduction to Management Science (Cengage, 2014), ch.
     * 9, pp. 384-387; read. */
    {"porta-vac", "A", 36, {0}, 0, 0, 36},
    {"porta-vac", "B", 12, {0}, 0, 42, 54},
    {"porta-vac", "C", 18, {1}, 36, 60, 78},
    {"porta-vac", "D", 30, {1}, 36, 42, 72},
    {"porta-vac", "E", 18, {1}, 36, 36, 54},
    {"porta-vac", "F", 12, {3}, 54, 78, 90},
    {"porta-vac", "G", 18, {4}, 66, 72, 90},
    {"porta-vac", "H", 24, {2, 5}, 54, 54, 78},
    {"porta-vac", "I", 12, {8}, 78, 78, 90},
    {"porta-vac", "J", 12, {6, 7, 9}, 90, 90, 102},
    /* reliable: Hillier and Lieberman, Introduction to Operations Research, Reliable
     * Construction Co.; durations read, predecessors from memory. */
    {"reliable", "A", 12, {0}, 0, 0, 12},
    {"reliable", "B", 24, {1}, 12, 12, 36},
    {"reliable", "C", 60, {2}, 36, 36, 96},
    {"reliable", "D", 36, {3}, 96, 120, 156},
    {"reliable", "E", 24, {3}, 96, 96, 120},
    {"reliable", "F", 30, {5}, 120, 120, 150},
    {"reliable", "G", 42, {4}, 132, 156, 198},
    {"reliable", "H", 54, {5, 7}, 174, 198, 252},
    {"reliable", "I", 42, {3}, 96, 108, 150},
    {"reliable", "J", 48, {6, 9}, 150, 150, 198},
    {"reliable", "K", 24, {10}, 198, 204, 228},
    {"reliable", "L", 30, {10}, 198, 198, 228},
    {"reliable", "M", 12, {8}, 228, 252, 264},
    {"reliable", "N", 36, {11, 12}, 228, 228, 264},
    /* fourteen-AN: Exercise of fourteen activities A to N; estimates and the times of A to F
     * read, the rest computed. */
    {"fourteen-AN", "A", 32, {0}, 0, 0, 32},
    {"fourteen-AN", "B", 14, {0}, 0, 48, 62},
    {"fourteen-AN", "C", 30, {1}, 32, 32, 62},
    {"fourteen-AN", "D", 49, {1}, 32, 43, 92},
    {"fourteen-AN", "E", 58, {2, 3}, 62, 62, 120},
    {"fourteen-AN", "F", 28, {4}, 81, 92, 120},
    {"fourteen-AN", "G", 35, {4}, 81, 111, 146},
    {"fourteen-AN", "H", 26, {5, 6}, 120, 120, 146},
    {"fourteen-AN", "I", 40, {7, 8}, 146, 146, 186},
    {"fourteen-AN", "J", 25, {9}, 186, 201, 226},
    {"fourteen-AN", "K", 59, {9}, 186, 186, 245},
    {"fourteen-AN", "L", 32, {10}, 211, 226, 258},
    {"fourteen-AN", "M", 13, {11}, 245, 245, 258},
    {"fourteen-AN", "N", 47, {12, 13}, 258, 258, 305},
    /* lecture-L27: Lecture L27, Project Scheduling: PERT Networks; estimates and node times
     * read, the rest computed. */
    {"lecture-L27", "1-2", 30, {0}, 0, 0, 30},
    {"lecture-L27", "1-3", 24, {0}, 0, 6, 30},
    {"lecture-L27", "2-3", 0, {1}, 30, 30, 30},
    {"lecture-L27", "2-4", 24, {1}, 30, 39, 63},
    {"lecture-L27", "2-6", 45, {1}, 30, 80, 125},
    {"lecture-L27", "3-4", 33, {2, 3}, 30, 30, 63},
    {"lecture-L27", "3-5", 36, {2, 3}, 30, 65, 101},
    {"lecture-L27", "4-5", 38, {4, 6}, 63, 63, 101},
    {"lecture-L27", "4-6", 30, {4, 6}, 63, 95, 125},
    {"lecture-L27", "5-6", 24, {7, 8}, 101, 101, 125},
    /* aoa-seven: Solved arrow network of seven activities; all read. */
    {"aoa-seven", "1-2", 42, {0}, 0, 12, 54},
    {"aoa-seven", "1-3", 60, {0}, 0, 0, 60},
    {"aoa-seven", "2-4", 36, {1}, 42, 54, 90},
    {"aoa-seven", "3-4", 30, {2}, 60, 60, 90},
    {"aoa-seven", "3-5", 24, {2}, 60, 84, 108},
    {"aoa-seven", "4-5", 18, {3, 4}, 90, 90, 108},
    {"aoa-seven", "5-6", 12, {5, 6}, 108, 108, 120},
    /* aoa-thirteen: Solved arrow network of thirteen activities (4-5 is a dummy); all read. */
    {"aoa-thirteen", "1-2", 48, {0}, 0, 6, 54},
    {"aoa-thirteen", "1-3", 60, {0}, 0, 0, 60},
    {"aoa-thirteen", "1-4", 54, {0}, 0, 36, 90},
    {"aoa-thirteen", "2-5", 36, {1}, 48, 54, 90},
    {"aoa-thirteen", "2-6", 24, {1}, 48, 96, 120},
    {"aoa-thirteen", "3-5", 30, {2}, 60, 60, 90},
    {"aoa-thirteen", "4-5", 0, {3}, 54, 90, 90},
    {"aoa-thirteen", "4-7", 42, {3}, 54, 120, 162},
    {"aoa-thirteen", "5-7", 72, {4, 6, 7}, 90, 90, 162},
    {"aoa-thirteen", "5-8", 90, {4, 6, 7}, 90, 96, 186},
    {"aoa-thirteen", "6-9", 108, {5}, 72, 120, 228},
    {"aoa-thirteen", "7-8", 24, {8, 9}, 162, 162, 186},
    {"aoa-thirteen", "8-9", 42, {10, 12}, 186, 186, 228},
};
enum { ROWS = sizeof table / sizeof *table };

static bp_errors errs;

/* Starts as early as can be, of the network or (mirrored) of the network with its arrows turned. */
static void starts(const row *net, uint32_t n, bool mirrored, int32_t *start)
{
    small_problem s;
    bp_eng_solution *out = NULL;
    small_init(&s, 1000, 1, 1);
    for (uint32_t a = 0; a < n; a++)
        small_term(&s, 0, BP_ENG_STARTS, small_task(&s, net[a].length, 0, 0), 0, 0, 1);
    for (uint32_t a = 0; a < n; a++)
        for (uint32_t k = 0; k < 4 && net[a].after[k]; k++)
            small_after(&s, mirrored ? a : net[a].after[k] - 1, mirrored ? net[a].after[k] - 1 : a);
    ck_assert_int_eq(bp_eng_solve(&out, &s.p, NULL, &errs), BP_OK);
    ck_assert_int_eq(out->status, BP_ENG_OPTIMAL);
    memcpy(start, out->start, n * sizeof *start);
    bp_eng_solution_free(out);
}

START_TEST(the_engine_agrees_with_the_worked_examples)
{
    uint32_t networks = 0;
    for (uint32_t first = 0, n; first < ROWS; first += n, networks++) {
        const row *net = &table[first];
        int32_t early[ROWS], turned[ROWS], completion = 0;
        for (n = 1; first + n < ROWS && strcmp(net[n].network, net->network) == 0; n++)
            ;
        starts(net, n, false, early);
        starts(net, n, true, turned);
        for (uint32_t a = 0; a < n; a++)
            if (early[a] + net[a].length > completion)
                completion = early[a] + net[a].length;
        for (uint32_t a = 0; a < n; a++) {
            int32_t late = completion - turned[a] - net[a].length;
            ck_assert_msg(early[a] == net[a].early_start, "%s %s: early start %d", net->network,
                          net[a].name, early[a]);
            ck_assert_msg(late == net[a].late_start, "%s %s: late start %d", net->network,
                          net[a].name, late);
            ck_assert_int_eq(late + net[a].length, net[a].late_finish);
            ck_assert_int_le(early[a], late);
        }
    }
    ck_assert_uint_eq(networks, 6);
}
END_TEST

Suite *suite_engine_networks(void);
Suite *suite_engine_networks(void)
{
    Suite *suite = suite_create("engine/networks");
    TCase *c = tcase_create("published");
    tcase_add_test(c, the_engine_agrees_with_the_worked_examples);
    suite_add_tcase(suite, c);
    return suite;
}
