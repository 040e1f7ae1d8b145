#include "out/jput.h"

#include <inttypes.h>
#include <string.h>

#include "base/json.h"

static void new_line(bpi_jput *j)
{
    bpi_text_char(j->out, '\n');
    for (int i = 0; i < j->depth; i++)
        bpi_text_char(j->out, ' ');
}

void bpi_jput_name(bpi_jput *j, const char *name)
{
    if (j->any)
        bpi_text_char(j->out, ',');
    if (j->depth)
        new_line(j);
    j->any = true;
    if (name) {
        bpi_json_put_string(j->out, name, strlen(name));
        bpi_text_put(j->out, ": ");
    }
}

void bpi_jput_open(bpi_jput *j, const char *name, char bracket)
{
    bpi_jput_name(j, name);
    bpi_text_char(j->out, bracket);
    j->depth++;
    j->any = false;
}

void bpi_jput_close(bpi_jput *j, char bracket)
{
    j->depth--;
    if (j->any)
        new_line(j);
    bpi_text_char(j->out, bracket);
    j->any = true;
}

void bpi_jput_text(bpi_jput *j, const char *name, const char *s)
{
    bpi_jput_name(j, name);
    bpi_json_put_string(j->out, s, strlen(s));
}

void bpi_jput_number(bpi_jput *j, const char *name, int64_t n)
{
    bpi_jput_name(j, name);
    bpi_text_f(j->out, "%" PRId64, n);
}

void bpi_jput_flag(bpi_jput *j, const char *name, bool b)
{
    bpi_jput_name(j, name);
    bpi_text_put(j->out, b ? "true" : "false");
}

void bpi_jput_null(bpi_jput *j, const char *name)
{
    bpi_jput_name(j, name);
    bpi_text_put(j->out, "null");
}
