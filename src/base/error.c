#include "base/error.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char *bp_code_text(bp_code code)
{
#define BPI_AS_TEXT(name, text) text,
    static const char *const texts[] = {BP_CODES(BPI_AS_TEXT)};
#undef BPI_AS_TEXT
    return (unsigned)code < BP_NCODES ? texts[code] : "unknown code";
}

/* Copy as much as fits, ending before a UTF-8 character that does not fit whole. */
static void fit(char *to, size_t room, const char *from)
{
    size_t len = from ? strlen(from) : 0;
    if (len >= room) {
        len = room - 1;
        while (len > 0 && ((unsigned char)from[len] & 0xC0) == 0x80)
            len--;
    }
    if (len)
        memcpy(to, from, len);
    to[len] = '\0';
}

bp_code bpi_error_add(bp_errors *errs, bp_code code, bpi_where where, const char *wrong,
                      const char *right)
{
    if (!errs)
        return code;
    if (errs->n >= BP_MAX_ERRORS) {
        errs->more++;
        return code;
    }
    bp_error *e = &errs->item[errs->n++];
    e->code = code;
    e->line = where.line;
    e->col = where.col;
    fit(e->file, sizeof e->file, where.file);
    fit(e->pointer, sizeof e->pointer, where.pointer);
    fit(e->wrong, sizeof e->wrong, wrong);
    fit(e->right, sizeof e->right, right);
    return code;
}

bp_code bpi_error_f(bp_errors *errs, bp_code code, bpi_where where, const char *right,
                    const char *format, ...)
{
    char wrong[1024];
    va_list args;
    va_start(args, format);
    vsnprintf(wrong, sizeof wrong, format, args);
    va_end(args);
    return bpi_error_add(errs, code, where, wrong, right);
}

void bpi_error_take(bp_errors *errs, const bp_errors *from)
{
    for (uint32_t i = 0; i < from->n; i++) {
        const bp_error *e = &from->item[i];
        bpi_where where = {e->file, e->pointer, e->line, e->col};
        bpi_error_add(errs, e->code, where, e->wrong, e->right);
    }
    if (errs)
        errs->more += from->more;
}

bp_code bpi_error_no_memory(bp_errors *errs)
{
    return bpi_error_add(errs, BP_ENOMEM, BPI_NOWHERE, bp_code_text(BP_ENOMEM), "");
}

size_t bp_error_text(char *out, size_t room, const bp_error *e)
{
    char raw[sizeof e->file + sizeof e->wrong + sizeof e->right + 64];
    int n = 0;
    if (e->file[0] && e->line)
        n = snprintf(raw, sizeof raw, "%s:%u:%u: ", e->file, (unsigned)e->line, (unsigned)e->col);
    else if (e->file[0])
        n = snprintf(raw, sizeof raw, "%s: ", e->file);
    snprintf(raw + n, sizeof raw - (size_t)n, "%s%s%s", e->wrong, e->right[0] ? "; " : "",
             e->right);

    size_t len = 0;
    for (const unsigned char *p = (const unsigned char *)raw; *p; p++) {
        const char *s = (const char *)p;
        size_t k = 1;
        if (*p < 0x20 || *p == 0x7F) {
            s = "\xEF\xBF\xBD";
            k = 3;
        }
        for (size_t i = 0; i < k; i++, len++)
            if (len + 1 < room)
                out[len] = s[i];
    }
    if (room)
        out[len < room ? len : room - 1] = '\0';
    return len;
}
