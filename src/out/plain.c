#include "out/plain.h"

#include <glib.h>
#include <string.h>

#include "base/utf8.h"
#include "out/facts.h"

void bpi_plain_put(bpi_text *out, const char *s)
{
    bpi_utf8_plain(out, s, strlen(s));
}

size_t bpi_plain_width(const char *s)
{
    size_t n = 0, len = strlen(s);
    for (size_t i = 0; i < len;) {
        uint32_t code = 0xFFFD;
        size_t step = bpi_utf8_step(s + i, len - i, &code);
        i += step ? step : 1;
        if (!g_unichar_iszerowidth(code))
            n += g_unichar_iswide(code) ? 2 : 1;
    }
    return n;
}

void bpi_plain_head(bpi_text *out, const char *name, const bp_plan *plan)
{
    char date[BPI_FACT_DATE_ROOM];
    bpi_text_f(out, "%s: ", name);
    bpi_plain_put(out, plan->title);
    bpi_text_f(out, "\n%s, plan %s\n", bpi_fact_date(date, plan), plan->stamp);
}

void bpi_plain_foot(bpi_text *out, const bp_plan *plan)
{
    bpi_text_char(out, '\n');
    bpi_plain_put(out, plan->defer);
    bpi_text_char(out, '\n');
}

/* A spreadsheet takes these for the start of a formula, some also in full width. */
static bool is_formula(const char *s)
{
    static const char *const signs[] = {"=", "+", "-", "@", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(s, signs[i], strlen(signs[i])) == 0)
            return true;
    return false;
}

void bpi_plain_cells(bpi_text *out, const char *const *cell, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const char *s = cell[i];
        bool quoted = strpbrk(s, ",\"\r\n") != NULL;
        bpi_text_put(out, i ? "," : "");
        bpi_text_put(out, quoted ? "\"" : "");
        bpi_text_put(out, is_formula(s) ? "'" : "");
        for (; *s; s++) {
            if (*s == '"')
                bpi_text_char(out, '"');
            bpi_text_char(out, *s);
        }
        bpi_text_put(out, quoted ? "\"" : "");
    }
    bpi_text_put(out, "\r\n");
}
