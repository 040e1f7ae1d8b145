#include "support/rows.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/text.h"

/* Cut the field at *s in place; *s moves behind it. Returns what ended it: ',' or '\n' or NUL. */
static char take(char **s, const char **field)
{
    char *from = *s, *to = *s;
    bool quoted = *from == '"';
    *field = to;
    from += quoted;
    for (; *from && (quoted || (*from != ',' && *from != '\n')); from++) {
        if (quoted && *from == '"' && *++from != '"')
            break;
        *to++ = *from;
    }
    from += *from == '\r';
    char end = *from;
    *s = from + (end != '\0');
    *to = '\0';
    return end;
}

rows rows_read(const char *path)
{
    rows r = {0};
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_msg(bpi_file_read(&t, path, 1u << 20, NULL) == BP_OK, "%s", path);
    r.text = t.s;
    r.row = calloc(t.len, sizeof *r.row);
    ck_assert_ptr_nonnull(r.row);
    for (char *s = r.text; *s; r.n++) {
        row *to = &r.row[r.n];
        char end = ',';
        for (size_t i = 0; end == ','; i++) {
            const char *field;
            end = take(&s, &field);
            ck_assert_msg(i < ROW_FIELDS, "%s: row %zu has too many fields", path, r.n);
            to->field[i] = field;
        }
        for (size_t i = 0; i < ROW_FIELDS; i++)
            if (!to->field[i])
                to->field[i] = "";
    }
    ck_assert_msg(r.n > 1, "%s has no rows", path);
    memmove(r.row, r.row + 1, --r.n * sizeof *r.row); /* the header */
    return r;
}

void rows_release(rows *r)
{
    bpi_text t = {.s = r->text};
    bpi_text_release(&t);
    free(r->row);
}

const row *rows_find(const rows *r, const char *id)
{
    for (size_t i = 0; i < r->n; i++)
        if (strcmp(r->row[i].field[0], id) == 0)
            return &r->row[i];
    return NULL;
}

double rows_digit(const char *printed)
{
    const char *point = strchr(printed, '.');
    double one = 1;
    for (size_t i = point ? strlen(point + 1) : 0; i > 0; i--)
        one /= 10;
    return one;
}

bool rows_near(double a, double b, double within)
{
    return a - b <= within && b - a <= within;
}
