#include "base/utf8.h"

size_t bpi_utf8_step(const char *s, size_t len, uint32_t *code)
{
    if (len == 0)
        return 0;
    const unsigned char *p = (const unsigned char *)s;
    if (p[0] < 0x80) {
        *code = p[0];
        return 1;
    }
    size_t n = p[0] >= 0xF0 ? 4 : p[0] >= 0xE0 ? 3 : 2;
    if (p[0] < 0xC2 || p[0] > 0xF4 || n > len)
        return 0;
    uint32_t c = p[0] & (0x7Fu >> n);
    for (size_t i = 1; i < n; i++) {
        if ((p[i] & 0xC0) != 0x80)
            return 0;
        c = c << 6 | (p[i] & 0x3Fu);
    }
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    if (c < least[n] || c > 0x10FFFF || (c >= 0xD800 && c <= 0xDFFF))
        return 0;
    *code = c;
    return n;
}

size_t bpi_utf8_bad(const char *s, size_t len)
{
    uint32_t code;
    for (size_t i = 0; i < len;) {
        size_t n = bpi_utf8_step(s + i, len - i, &code);
        if (n == 0)
            return i;
        i += n;
    }
    return len;
}

size_t bpi_utf8_count(const char *s, size_t len)
{
    size_t count = 0;
    uint32_t code;
    for (size_t i = 0; i < len; count++) {
        size_t n = bpi_utf8_step(s + i, len - i, &code);
        i += n ? n : 1;
    }
    return count;
}

bool bpi_utf8_is_control(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code <= 0x9F) || code == 0x2028 || code == 0x2029;
}

bool bpi_utf8_is_bidi(uint32_t code)
{
    return code == 0x061C || code == 0x200E || code == 0x200F ||
           (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

size_t bpi_utf8_unplain(const char *s, size_t len, bool lines, uint32_t *code)
{
    for (size_t i = 0; i < len;) {
        uint32_t c = 0xFFFD;
        size_t n = bpi_utf8_step(s + i, len - i, &c);
        bool let = lines && (c == '\n' || c == '\t');
        if (n == 0 || (!let && (bpi_utf8_is_control(c) || bpi_utf8_is_bidi(c)))) {
            *code = c;
            return i;
        }
        i += n;
    }
    return len;
}

static bool is_break(uint32_t c)
{
    return (c >= 0x09 && c <= 0x0D) || c == 0x85 || c == 0x2028 || c == 0x2029;
}

void bpi_utf8_plain(bpi_text *out, const char *s, size_t len)
{
    bool in_break = false;
    for (size_t i = 0; i < len;) {
        uint32_t c = 0;
        size_t n = bpi_utf8_step(s + i, len - i, &c);
        if (n && is_break(c)) {
            if (!in_break)
                bpi_text_char(out, ' ');
        } else if (n == 0 || bpi_utf8_is_control(c)) {
            bpi_text_put(out, "\xEF\xBF\xBD");
        } else if (!bpi_utf8_is_bidi(c)) {
            bpi_text_add(out, s + i, n);
        }
        in_break = n && is_break(c);
        i += n ? n : 1;
    }
}
