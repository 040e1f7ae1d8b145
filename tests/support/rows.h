/* tests/support/rows.h - published rows that tests are held to, as comma-separated values.
 *
 * Owns     the rows of one file: RFC 4180, a header line first, fields in quotes where they need them.
 */
#ifndef BP_TESTS_ROWS_H
#define BP_TESTS_ROWS_H

#include <stdbool.h>
#include <stddef.h>

#define ROW_FIELDS 8

typedef struct row {
    const char *field[ROW_FIELDS]; /* "" where a row has fewer */
} row;

typedef struct rows {
    char *text;
    row *row;
    size_t n;
} rows;

/* Read a file, which must be there and have rows; fails the test otherwise. */
rows rows_read(const char *path);
void rows_release(rows *r);
const row *rows_find(const rows *r, const char *id); /* by its first field; NULL: none */

/* One unit of the last digit that a published number is printed with: half of it is what rounding cost. */
double rows_digit(const char *printed);
bool rows_near(double a, double b, double within);

#endif
