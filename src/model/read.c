#include "model/read.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "base/near.h"
#include "base/utf8.h"

#define MOST_ID 40

void bpi_read_wrong(bpi_reader *r, bp_code code, bpi_where at, const char *right, const char *wrong,
                    ...)
{
    char text[1024];
    va_list args;
    va_start(args, wrong);
    vsnprintf(text, sizeof text, wrong, args);
    va_end(args);
    bpi_error_add(r->errs, code, at, text, right);
    if (r->code == BP_OK)
        r->code = code;
}

void bpi_read_no_memory(bpi_reader *r)
{
    r->code = BP_ENOMEM; /* told once, when reading has ended */
}

bpi_where bpi_read_byte(const bpi_node *text, size_t at)
{
    bpi_where w = text->at;
    if (text->to - text->from == text->len + 2)
        w.col += (uint32_t)(1 + at);
    return w;
}

void bpi_read_fault(bpi_reader *r, const bpi_node *text, const bpi_fault *f)
{
    bpi_read_wrong(r, BP_EVALUE, bpi_read_byte(text, f->at), f->right, "%s", f->wrong);
}

/* ---- objects ------------------------------------------------------------------------------ */

/* `known are "a", "b"`, as far as there is room. */
static void list_names(char *out, size_t room, const char *before, const char *const *name,
                       size_t n)
{
    size_t len = (size_t)snprintf(out, room, "%s", before);
    for (size_t i = 0; i < n; i++) {
        if (!name[i][0])
            continue;
        size_t more = strlen(name[i]) + 4;
        if (len + more + 5 >= room) {
            snprintf(out + len, room - len, "%s", ", ...");
            return;
        }
        len += (size_t)snprintf(out + len, room - len, "%s\"%s\"",
                                len == strlen(before) ? "" : ", ", name[i]);
    }
}

static const bpi_member *find_member(const bpi_member *m, size_t n, const bpi_node *value)
{
    for (size_t i = 0; i < n; i++)
        if (strlen(m[i].name) == value->name_len && strcmp(m[i].name, value->name) == 0)
            return &m[i];
    return NULL;
}

static void unknown_member(bpi_reader *r, const bpi_node *value, const char *what,
                           const bpi_member *m, size_t n)
{
    char right[200];
    uint32_t code = 0;
    if (bpi_utf8_unplain(value->name, value->name_len, false, &code) < value->name_len) {
        bpi_read_wrong(r, BP_EVALUE, value->name_at, "take it out",
                       "the name of a member holds the character U+%04" PRIX32, code);
        return;
    }
    bpi_near near = bpi_near_to(value->name, value->name_len);
    const char *names[64];
    size_t k = 0;
    for (size_t i = 0; i < n; i++) {
        bpi_near_offer(&near, m[i].name);
        if (k < 64)
            names[k++] = m[i].name;
    }
    if (near.name)
        snprintf(right, sizeof right, "did you mean \"%s\"?", near.name);
    else
        list_names(right, sizeof right, "known are ", names, k);
    bpi_read_wrong(r, BP_EVALUE, value->name_at, right, "%s has no member \"%s\"", what,
                   value->name);
}

/* An object as it could be written: the members it needs, as many as there is room for. */
static void put_examples(char *out, size_t room, const bpi_member *m, size_t n)
{
    size_t len = (size_t)snprintf(out, room, "write {");
    const char *comma = " ";
    for (size_t i = 0; i < n; i++)
        if (m[i].example && len + strlen(m[i].example) + 10 < room) {
            len += (size_t)snprintf(out + len, room - len, "%s%s", comma, m[i].example);
            comma = ", ";
        }
    snprintf(out + len, room - len, comma[0] == ',' ? " }" : " ... }");
}

static bool is_text_field(const bpi_member *m)
{
    return m->read == bpi_read_id || m->read == bpi_read_text;
}

bool bpi_read_object(bpi_reader *r, void *into, const bpi_node *node, const char *what,
                     const bpi_member *members, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (is_text_field(&members[i]))
            *(const char **)(void *)((char *)into + members[i].field) = "";
    if (node->kind != BPI_OBJECT) {
        char right[200];
        put_examples(right, sizeof right, members, n);
        bpi_read_wrong(r, BP_EVALUE, node->at, right, "%s is an object, not %s", what,
                       bpi_kind_text(node->kind));
        return false;
    }
    for (const bpi_node *v = node->first; v; v = v->next)
        if (!find_member(members, n, v)) {
            if (v->name_len == 4 && memcmp(v->name, "note", 4) == 0)
                bpi_read_plain(r, v, "note", 0, BPI_MAX_TEXT);
            else
                unknown_member(r, v, what, members, n);
        }
    for (size_t i = 0; i < n; i++) {
        const bpi_member *m = &members[i];
        const bpi_node *v = bpi_node_member(node, m->name);
        if (!v && m->example) {
            char right[200];
            snprintf(right, sizeof right, "add %s", m->example);
            bpi_read_wrong(r, BP_EVALUE, node->at, right, "%s needs \"%s\"", what, m->name);
        }
        if (!v)
            continue;
        if (m->where)
            *(bpi_where *)(void *)((char *)into + m->where) = v->at;
        if (m->read)
            m->read(r, into, v, m);
    }
    return true;
}

/* ---- lists and names ---------------------------------------------------------------------- */

void *bpi_read_list(bpi_reader *r, const bpi_node *node, const char *name, uint32_t least,
                    uint32_t most, size_t size, uint32_t *n)
{
    *n = 0;
    if (node->kind != BPI_ARRAY) {
        bpi_read_wrong(r, BP_EVALUE, node->at, "write it in [ ]", "\"%s\" is a list, not %s", name,
                       bpi_kind_text(node->kind));
        return NULL;
    }
    if (node->count < least) {
        bpi_read_wrong(r, BP_EVALUE, node->at, least == 1 ? "put at least one in" : "add to it",
                       "\"%s\" is empty", name);
        return NULL;
    }
    if (node->count > most) {
        char right[64];
        snprintf(right, sizeof right, "at most %" PRIu32 " can be planned", most);
        bpi_read_wrong(r, BP_ELIMIT, node->at, right, "\"%s\" has %" PRIu32 " members", name,
                       node->count);
        return NULL;
    }
    void *list = bpi_arena_take(r->a, node->count, size);
    if (!list) {
        bpi_read_no_memory(r);
        return NULL;
    }
    *n = node->count;
    return list;
}

bpi_names bpi_read_ids(bpi_reader *r, const bpi_node *list, const char *what)
{
    bpi_names names = {0};
    if (!list || list->kind != BPI_ARRAY || list->count > BPI_MAX_LIST) {
        names.unread = list != NULL;
        return names;
    }
    const char **id = BPI_TAKE(r->a, list->count, const char *);
    if (!id) {
        bpi_read_no_memory(r);
        return names;
    }
    for (const bpi_node *o = list->first; o; o = o->next) {
        const bpi_node *v = bpi_node_member(o, "id");
        id[names.n] = v && v->kind == BPI_STRING ? v->text : "";
        for (uint32_t i = 0; i < names.n && id[names.n][0]; i++)
            if (strcmp(id[i], id[names.n]) == 0) {
                bpi_read_wrong(r, BP_EVALUE, v->at, "give each its own id",
                               "two %s have the id \"%s\"", what, v->text);
                break;
            }
        names.n++;
    }
    names.id = id;
    return names;
}

uint32_t bpi_read_ref(bpi_reader *r, const bpi_node *text, const bpi_names *names,
                      const char *prefix, const char *haver)
{
    if (!bpi_read_is_text(r, text, text->name ? text->name : "id", "write an id"))
        return names->n;
    bpi_near near = bpi_near_to(text->text, text->len);
    for (uint32_t i = 0; i < names->n; i++) {
        if (strcmp(names->id[i], text->text) == 0)
            return i;
        if (names->id[i][0])
            bpi_near_offer(&near, names->id[i]);
    }
    if (names->unread)
        return names->n;
    char right[200] = "";
    if (near.name)
        snprintf(right, sizeof right, "did you mean \"%s\"?", near.name);
    else if (names->n)
        list_names(right, sizeof right, "it has ", names->id, names->n);
    else
        snprintf(right, sizeof right, "it has none: add it there");
    bpi_read_wrong(r, BP_EVALUE, text->at, right, "%s \"%s\", which %s does not have", prefix,
                   text->text, haver);
    return names->n;
}

uint32_t bpi_read_skill(bpi_reader *r, const char *name)
{
    uint32_t n = r->show->skills;
    for (uint32_t i = 0; i < n; i++)
        if (strcmp(r->skill[i], name) == 0)
            return i;
    void *list = (void *)r->skill;
    const char **place =
        (const char **)bpi_arena_more(r->a, &list, &r->skill_room, n, sizeof *r->skill);
    r->skill = (const char **)list;
    if (!place) {
        bpi_read_no_memory(r);
        return BPI_NO_INDEX;
    }
    *place = name;
    r->show->skill = r->skill;
    r->show->skills = n + 1;
    return n;
}

/* ---- texts -------------------------------------------------------------------------------- */

/* Printable on one line, in the order in which it is read? Otherwise a mistake was added. */
static bool is_plain(bpi_reader *r, const bpi_node *v, const char *name)
{
    uint32_t code = 0;
    size_t bad = bpi_utf8_unplain(v->text, v->len, false, &code);
    if (bad == v->len)
        return true;
    bpi_read_wrong(r, BP_EVALUE, bpi_read_byte(v, bad), "take it out",
                   "\"%s\" holds the %s character U+%04" PRIX32, name,
                   bpi_utf8_is_bidi(code) ? "direction-changing" : "control", code);
    return false;
}

bool bpi_read_is_text(bpi_reader *r, const bpi_node *v, const char *name, const char *right)
{
    if (v->kind == BPI_STRING)
        return is_plain(r, v, name);
    bpi_read_wrong(r, BP_EVALUE, v->at, right, "\"%s\" is a text, not %s", name,
                   bpi_kind_text(v->kind));
    return false;
}

const char *bpi_read_plain(bpi_reader *r, const bpi_node *v, const char *name, int64_t low,
                           int64_t high)
{
    if (!bpi_read_is_text(r, v, name, "put it in \" \""))
        return NULL;
    const char *s = v->text;
    size_t len = v->len;
    while (len && *s == ' ') {
        s++;
        len--;
    }
    while (len && s[len - 1] == ' ')
        len--;
    if ((int64_t)len < low) {
        bpi_read_wrong(r, BP_EVALUE, v->at, "write something", "\"%s\" is empty", name);
        return NULL;
    }
    if ((int64_t)len > high) {
        char right[64];
        snprintf(right, sizeof right, "at most %" PRId64 " bytes fit", high);
        bpi_read_wrong(r, BP_ELIMIT, v->at, right, "\"%s\" has %zu bytes", name, len);
        return NULL;
    }
    char *copy = bpi_arena_copy(r->a, s, len);
    if (!copy)
        bpi_read_no_memory(r);
    return copy;
}

void bpi_read_text(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    const char *text = bpi_read_plain(r, v, m->name, m->low, m->high);
    if (text)
        *(const char **)(void *)((char *)into + m->field) = text;
}

void bpi_read_ignored(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)into;
    bpi_read_is_text(r, v, m->name, "put it in \" \"");
}

void bpi_read_id(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    if (!bpi_read_is_text(r, v, m->name, "write a short name"))
        return;
    size_t i = 0;
    for (; i < v->len; i++) {
        char c = v->text[i];
        bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (!plain && (c != '-' || i == 0))
            break;
    }
    if (i < v->len || i == 0 || i > MOST_ID) {
        bpi_read_wrong(r, BP_EVALUE, bpi_read_byte(v, i < v->len ? i : 0),
                       "use 1 to 40 of a-z, 0-9 and -, beginning with a letter or digit",
                       i > MOST_ID && i == v->len ? "the id is too long"
                       : v->len == 0              ? "the id is empty"
                                                  : "an id cannot hold this character");
        return;
    }
    *(const char **)(void *)((char *)into + m->field) = v->text;
}

/* ---- numbers and words -------------------------------------------------------------------- */

void bpi_read_flag(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    if (v->kind == BPI_BOOL)
        *(bool *)((char *)into + m->field) = v->truth;
    else
        bpi_read_wrong(r, BP_EVALUE, v->at, "write true or false, without \" \"",
                       "\"%s\" is true or false, not %s", m->name, bpi_kind_text(v->kind));
}

void bpi_read_count(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    char right[80];
    snprintf(right, sizeof right, "write a whole number from %" PRId64 " to %" PRId64, m->low,
             m->high);
    if (v->kind != BPI_NUMBER)
        bpi_read_wrong(r, BP_EVALUE, v->at, right, "\"%s\" is a number, not %s", m->name,
                       bpi_kind_text(v->kind));
    else if (!v->whole)
        bpi_read_wrong(r, BP_EVALUE, v->at, right, "\"%s\" is not a whole number", m->name);
    else if (v->integer < m->low || v->integer > m->high)
        bpi_read_wrong(r, BP_ERANGE, v->at, right, "\"%s\" cannot be %" PRId64, m->name,
                       v->integer);
    else
        *(uint32_t *)(void *)((char *)into + m->field) = (uint32_t)v->integer;
}

static const bpi_word *find_word(bpi_reader *r, const bpi_node *v, const bpi_member *m)
{
    char right[200];
    const char *names[32];
    size_t n = 0;
    if (!bpi_read_is_text(r, v, m->name, "put it in \" \""))
        return NULL;
    bpi_near near = bpi_near_to(v->text, v->len);
    for (const bpi_word *w = m->words; w->text; w++) {
        if (strcmp(w->text, v->text) == 0)
            return w;
        bpi_near_offer(&near, w->text);
        if (n < 32)
            names[n++] = w->text;
    }
    if (near.name)
        snprintf(right, sizeof right, "did you mean \"%s\"?", near.name);
    else
        list_names(right, sizeof right, "write one of ", names, n);
    bpi_read_wrong(r, BP_EVALUE, v->at, right, "\"%s\" cannot be \"%s\"", m->name, v->text);
    return NULL;
}

void bpi_read_word(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    const bpi_word *w = find_word(r, v, m);
    if (w)
        memcpy((char *)into + m->field, &w->value, sizeof w->value);
}

void bpi_read_words(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    uint32_t n = 0, set = 0;
    if (!bpi_read_list(r, v, m->name, 0, BPI_MAX_LIST, 1, &n))
        return;
    for (const bpi_node *e = v->first; e; e = e->next) {
        const bpi_word *w = find_word(r, e, m);
        set |= w ? (uint32_t)w->value : 0;
    }
    *(uint32_t *)(void *)((char *)into + m->field) = set;
}
