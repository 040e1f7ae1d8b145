#include "base/text.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "base/memory.h"

static bool make_room(bpi_text *t, size_t more)
{
    if (t->failed)
        return false;
    if (more >= SIZE_MAX / 2 - t->len) {
        t->failed = true;
        return false;
    }
    size_t want = t->len + more + 1;
    if (want <= t->room)
        return true;
    size_t room = t->room ? t->room : BPI_TEXT_FIRST;
    while (room < want)
        room *= 2;
    char *s = bpi_mem_grow(t->s, room);
    if (!s) {
        t->failed = true;
        return false;
    }
    t->s = s;
    t->room = room;
    return true;
}

void bpi_text_add(bpi_text *t, const char *s, size_t len)
{
    if (!make_room(t, len))
        return;
    if (len)
        memcpy(t->s + t->len, s, len);
    t->len += len;
    t->s[t->len] = '\0';
}

void bpi_text_put(bpi_text *t, const char *s)
{
    bpi_text_add(t, s, strlen(s));
}

void bpi_text_char(bpi_text *t, char c)
{
    bpi_text_add(t, &c, 1);
}

void bpi_text_f(bpi_text *t, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    int len = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (len < 0)
        t->failed = true;
    else if (make_room(t, (size_t)len)) {
        vsnprintf(t->s + t->len, (size_t)len + 1, format, again);
        t->len += (size_t)len;
    }
    va_end(again);
}

void bpi_text_reset(bpi_text *t)
{
    t->len = 0;
    t->failed = false;
    if (t->s)
        t->s[0] = '\0';
}

void bpi_text_release(bpi_text *t)
{
    bpi_mem_drop(t->s);
    *t = BPI_TEXT_EMPTY;
}
