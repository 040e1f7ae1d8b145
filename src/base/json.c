#include "base/json.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/jsonscan.h"
#include "base/limits.h"
#include "base/utf8.h"

/* cJSON takes its memory from malloc. Its hooks are one set for the process, and setting them while
 * another thread reads would be a race, so the library leaves them alone; the test of this module,
 * which is alone in its process, sets them to count and to fail. Everything cJSON makes is copied
 * into the arena and given back before bpi_json_read returns. */

typedef struct build {
    bpi_arena *a;
    const char *file, *text;
    const bpi_json_marks *marks;
    size_t used; /* marks used so far: the number of nodes before this one in pre-order */
    bool lost;   /* cJSON's tree and the marks do not agree                             */
} build;

const char *bpi_kind_text(bpi_kind kind)
{
    static const char *const texts[] = {"null",   "true or false", "a number",
                                        "a text", "a list",        "an object"};
    return texts[kind];
}

/* The pointer of a value: its parent's, then "/" and the name with ~ and / escaped (RFC 6901 3), or
 * the index. NULL: no memory. */
static const char *make_pointer(const build *b, const bpi_node *node)
{
    const bpi_node *parent = node->parent;
    if (!parent)
        return "";
    if (parent->parent && parent->at.pointer == parent->parent->at.pointer)
        return parent->at.pointer; /* the parent's own was too long */
    char own[sizeof((bp_error *)0)->pointer];
    size_t n = (size_t)snprintf(own, sizeof own, "%s/", parent->at.pointer);
    char index[16];
    const char *name = node->name;
    size_t len = node->name_len;
    if (!name) {
        len = (size_t)snprintf(index, sizeof index, "%u", (unsigned)node->index);
        name = index;
    }
    for (size_t i = 0; i < len && n < sizeof own - 2; i++) {
        if (name[i] == '~' || name[i] == '/')
            own[n++] = '~';
        own[n++] = name[i] == '~' ? '0' : name[i] == '/' ? '1' : name[i];
    }
    if (n >= sizeof own - 2)
        return parent->at.pointer;
    return bpi_arena_copy(b->a, own, n);
}

static void set_number(const build *b, bpi_node *node, double value)
{
    node->number = value;
    const char *s = b->text + node->from;
    size_t len = node->to - node->from, i = s[0] == '-';
    int64_t sum = 0;
    for (; i < len && s[i] >= '0' && s[i] <= '9'; i++) {
        int digit = s[i] - '0';
        if (sum < (INT64_MIN + digit) / 10)
            return; /* an integer, but none that fits */
        sum = sum * 10 - digit;
    }
    if (i == len) {
        node->whole = s[0] == '-' || sum != INT64_MIN;
        node->integer = node->whole ? (s[0] == '-' ? sum : -sum) : 0;
    } else if (value >= -9007199254740992.0 && value <= 9007199254740992.0 &&
               value == (double)(int64_t)value) {
        node->whole = true; /* 1.0 and 1e3 are integers, as JSON Schema has it */
        node->integer = (int64_t)value;
    }
}

/* One node for one item of cJSON, without its children. NULL: no memory, or b->lost. */
static bpi_node *make_node(build *b, const cJSON *item, bpi_node *parent, uint32_t index)
{
    if (b->used >= b->marks->n) {
        b->lost = true;
        return NULL;
    }
    const bpi_json_mark *m = &b->marks->item[b->used++];
    bpi_node *node = BPI_TAKE(b->a, 1, bpi_node);
    if (!node)
        return NULL;
    *node = (bpi_node){.index = index, .from = m->from, .to = m->to, .parent = parent};
    if (item->string) {
        node->name_len = strlen(item->string);
        node->name = bpi_arena_copy(b->a, item->string, node->name_len);
        if (!node->name)
            return NULL;
    }
    node->at = (bpi_where){.file = b->file, .line = m->line, .col = m->col};
    node->at.pointer = make_pointer(b, node);
    if (!node->at.pointer)
        return NULL;
    node->name_at = node->at;
    if (m->name_line) {
        node->name_at.line = m->name_line;
        node->name_at.col = m->name_col;
    }
    if (cJSON_IsString(item)) {
        node->kind = BPI_STRING;
        node->len = strlen(item->valuestring);
        node->text = bpi_arena_copy(b->a, item->valuestring, node->len);
        if (!node->text)
            return NULL;
    } else if (cJSON_IsNumber(item)) {
        node->kind = BPI_NUMBER;
        set_number(b, node, item->valuedouble);
    } else if (cJSON_IsBool(item)) {
        node->kind = BPI_BOOL;
        node->truth = cJSON_IsTrue(item);
    } else if (cJSON_IsArray(item)) {
        node->kind = BPI_ARRAY;
    } else if (cJSON_IsObject(item)) {
        node->kind = BPI_OBJECT;
    } else {
        node->kind = BPI_NULL;
    }
    static const char first[] = {'n', 0, 0, '"', '[', '{'};
    char begins = b->text[m->from];
    b->lost = b->lost || (first[node->kind] && begins != first[node->kind]) ||
              (parent && (parent->kind == BPI_OBJECT) != (m->name_line != 0));
    return b->lost ? NULL : node;
}

/* The recursion is bounded by BPI_MAX_DEPTH, which the scan has held the text to. */
static bpi_node *make_tree(build *b, const cJSON *item, bpi_node *parent, uint32_t index)
{
    bpi_node *node = make_node(b, item, parent, index);
    if (!node)
        return NULL;
    bpi_node **end = &node->first;
    for (const cJSON *child = item->child; child; child = child->next) {
        *end = make_tree(b, child, node, node->count);
        if (!*end)
            return NULL;
        end = &(*end)->next;
        node->count++;
    }
    return node;
}

static int by_name(const void *x, const void *y)
{
    const bpi_node *a = *(bpi_node *const *)x, *b = *(bpi_node *const *)y;
    int order = strcmp(a->name, b->name);
    return order ? order : (a->index > b->index) - (a->index < b->index);
}

static int by_index(const void *x, const void *y)
{
    const bpi_node *a = *(bpi_node *const *)x, *b = *(bpi_node *const *)y;
    return (a->index > b->index) - (a->index < b->index);
}

/* Sorted by name to find them without comparing each with each, then by place to report them in
 * order. `list` has room for every member. */
static bp_code report_twins(const bpi_node *object, bpi_node **list, bp_errors *errs)
{
    size_t n = 0, twins = 0;
    for (bpi_node *m = object->first; m; m = m->next)
        list[n++] = m;
    qsort(list, n, sizeof *list, by_name);
    for (size_t i = 1; i < n; i++)
        if (strcmp(list[i]->name, list[i - 1]->name) == 0)
            list[twins++] = list[i]; /* never ahead of what is still to be read */
    qsort(list, twins, sizeof *list, by_index);
    for (size_t i = 0; i < twins; i++) {
        const bpi_node *first = bpi_node_member(object, list[i]->name);
        char right[64];
        snprintf(right, sizeof right, "keep one; the first is on line %u",
                 (unsigned)first->at.line);
        bpi_error_f(errs, BP_ESYNTAX, list[i]->name_at, right, "member \"%s\" stands twice",
                    list[i]->name);
    }
    return twins ? BP_ESYNTAX : BP_OK;
}

static bp_code check_twins(const bpi_node *root, bpi_arena *a, bp_errors *errs)
{
    size_t most = 0;
    bp_code rc = BP_OK;
    for (int pass = 0; pass < 2; pass++) {
        bpi_node **list = pass ? BPI_TAKE(a, most, bpi_node *) : NULL;
        if (pass && !list)
            return bpi_error_no_memory(errs);
        for (const bpi_node *n = root; n;) { /* pre-order without recursion */
            if (n->kind == BPI_OBJECT && n->count > most)
                most = n->count;
            if (pass && n->kind == BPI_OBJECT && n->count > 1 &&
                report_twins(n, list, errs) != BP_OK)
                rc = BP_ESYNTAX;
            if (n->first) {
                n = n->first;
                continue;
            }
            while (n && !n->next)
                n = n->parent;
            n = n ? n->next : NULL;
        }
    }
    return rc;
}

bp_code bpi_json_read(bpi_node **out, bpi_arena *a, const char *file, const char *text, size_t len,
                      bp_errors *errs)
{
    *out = NULL;
    const char *own_file = bpi_arena_copy(a, file, strlen(file));
    if (!own_file)
        return bpi_error_no_memory(errs);
    bpi_json_marks marks;
    bp_code rc = bpi_json_scan(&marks, a, own_file, text, len, errs);
    if (rc != BP_OK)
        return rc;

    /* The scan found JSON within every bound cJSON has, so only memory is left to fail. */
    cJSON *doc = cJSON_ParseWithLength(text, len);
    if (!doc)
        return bpi_error_no_memory(errs);
    build b = {.a = a, .file = own_file, .text = text, .marks = &marks};
    bpi_node *root = make_tree(&b, doc, NULL, 0);
    cJSON_Delete(doc);
    if (b.lost || (root && b.used != marks.n))
        return bpi_error_add(errs, BP_EINTERNAL, (bpi_where){.file = own_file},
                             "the two readings of the file do not agree", "");
    if (!root)
        return bpi_error_no_memory(errs);
    rc = check_twins(root, a, errs);
    if (rc == BP_OK)
        *out = root;
    return rc;
}

bpi_node *bpi_node_member(const bpi_node *object, const char *name)
{
    if (!object || object->kind != BPI_OBJECT)
        return NULL;
    for (bpi_node *m = object->first; m; m = m->next)
        if (strcmp(m->name, name) == 0)
            return m;
    return NULL;
}

bool bpi_node_is(const bpi_node *string, const char *text)
{
    return string && string->kind == BPI_STRING && strcmp(string->text, text) == 0;
}

void bpi_json_put_string(bpi_text *out, const char *s, size_t len)
{
    bpi_text_char(out, '"');
    for (size_t i = 0; i < len;) {
        uint32_t code = 0;
        size_t n = bpi_utf8_step(s + i, len - i, &code);
        if (n == 0)
            bpi_text_put(out, "\xEF\xBF\xBD");
        else if (code == '"' || code == '\\')
            bpi_text_f(out, "\\%c", (int)code);
        else if (code == '\n')
            bpi_text_put(out, "\\n");
        else if (code == '\t')
            bpi_text_put(out, "\\t");
        else if (code < 0x20)
            bpi_text_f(out, "\\u%04x", (unsigned)code);
        else
            bpi_text_add(out, s + i, n);
        i += n ? n : 1;
    }
    bpi_text_char(out, '"');
}
