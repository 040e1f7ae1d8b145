#include "base/near.h"

#include <string.h>

#define MOST_NAME 63

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static unsigned least(unsigned a, unsigned b)
{
    return a < b ? a : b;
}

/* The optimal string alignment form of the Damerau-Levenshtein distance, row by row: `row[0]` is
 * the row being filled, `row[1]` and `row[2]` are the two above it. */
unsigned bpi_near_distance(const char *a, size_t a_len, const char *b, size_t b_len, unsigned most)
{
    if (a_len > MOST_NAME || b_len > MOST_NAME)
        return most + 1;
    unsigned rows[3][MOST_NAME + 1];
    unsigned *row[3] = {rows[0], rows[1], rows[2]};
    for (size_t j = 0; j <= b_len; j++)
        row[0][j] = (unsigned)j;
    for (size_t i = 1; i <= a_len; i++) {
        unsigned *reused = row[2];
        row[2] = row[1];
        row[1] = row[0];
        row[0] = reused;
        row[0][0] = (unsigned)i;
        for (size_t j = 1; j <= b_len; j++) {
            char x = lower(a[i - 1]), y = lower(b[j - 1]);
            unsigned d = least(row[1][j], row[0][j - 1]) + 1;
            d = least(d, row[1][j - 1] + (x != y));
            if (i > 1 && j > 1 && x == lower(b[j - 2]) && lower(a[i - 2]) == y)
                d = least(d, row[2][j - 2] + 1);
            row[0][j] = d;
        }
    }
    return row[0][b_len] <= most ? row[0][b_len] : most + 1;
}

/* Short names are near only when one edit apart, or everything would be near everything. */
bpi_near bpi_near_to(const char *want, size_t len)
{
    unsigned most = len < 3 ? 1 : len < 6 ? 2 : 3;
    return (bpi_near){.want = want, .len = len, .best = most + 1};
}

void bpi_near_offer(bpi_near *n, const char *known)
{
    size_t len = strlen(known);
    /* Being as far apart as the name is long means that nothing of it was kept. */
    if (n->best == 0 || n->len == 0 || len == 0)
        return;
    unsigned d = bpi_near_distance(n->want, n->len, known, len, n->best - 1);
    if (d < n->best && d < n->len) {
        n->best = d;
        n->name = known;
    }
}
