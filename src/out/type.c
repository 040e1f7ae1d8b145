#include "out/type.h"

#include <pango/pangocairo.h>
#include <string.h>

#include "base/error.h"
#include "base/memory.h"
#include "base/utf8.h"

/* One layout serves every text in turn. */
struct bpi_type {
    cairo_t *cr;
    PangoContext *context;
    PangoLayout *layout;
    PangoFontDescription *sans, *serif;
    char missing[64]; /* first text with a letter that no font has; "": none */
};

static bool has_a_font(PangoContext *context, const PangoFontDescription *want)
{
    PangoFont *font = pango_context_load_font(context, want);
    if (!font)
        return false;
    g_object_unref(font);
    return true;
}

bp_code bpi_type_open(bpi_type **out, cairo_t *cr, bp_errors *errs)
{
    *out = NULL;
    bpi_type *t = bpi_mem_get(sizeof *t);
    if (!t)
        return bpi_error_no_memory(errs);
    t->cr = cr;
    t->context = pango_font_map_create_context(pango_cairo_font_map_get_default());
    pango_cairo_update_context(cr, t->context);
    /* Widths must not depend on a raster: the page has none. */
    pango_context_set_round_glyph_positions(t->context, FALSE);
    pango_context_set_language(t->context, pango_language_from_string("en"));
    t->layout = pango_layout_new(t->context);
    t->sans = pango_font_description_new();
    pango_font_description_set_family_static(t->sans, "DejaVu Sans");
    t->serif = pango_font_description_new();
    pango_font_description_set_family_static(t->serif, "DejaVu Serif");
    if (!has_a_font(t->context, t->sans)) {
        bpi_type_free(t);
        return bpi_error_add(errs, BP_EIO, BPI_NOWHERE, "no font is installed",
                             "install the DejaVu fonts (Debian: fonts-dejavu-core)");
    }
    *out = t;
    return BP_OK;
}

void bpi_type_free(bpi_type *t)
{
    if (!t)
        return;
    pango_font_description_free(t->sans);
    pango_font_description_free(t->serif);
    g_object_unref(t->layout);
    g_object_unref(t->context);
    bpi_mem_drop(t);
}

static int in_pango(double points)
{
    return (int)(points * PANGO_SCALE + 0.5);
}

static double in_points(int units)
{
    return (double)units / PANGO_SCALE;
}

static void remember_missing(bpi_type *t, const char *text)
{
    size_t len = 0;
    uint32_t code;
    for (size_t step; text[len] && (step = bpi_utf8_step(text + len, strlen(text + len), &code));) {
        if (len + step >= sizeof t->missing)
            break;
        len += step;
    }
    memcpy(t->missing, text, len);
    t->missing[len] = '\0';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* A number and the unit after it (a short word) stand on one line: "425 F", "74 °C", "40 cm". */
static void keep_units(PangoLayout *layout, const char *text)
{
    PangoAttrList *list = NULL;
    for (size_t i = 0; text[i]; i++) {
        size_t letters = 0, degree = 0;
        if (text[i] != ' ' || i == 0 || text[i - 1] < '0' || text[i - 1] > '9')
            continue;
        if (strncmp(text + i + 1, "\xC2\xB0", 2) == 0)
            degree = 2;
        while (is_letter(text[i + 1 + degree + letters]))
            letters++;
        char next = text[i + 1 + degree + letters];
        if (letters == 0 || letters > 3 || (next >= '0' && next <= '9')) /* "A1 B2" */
            continue;
        PangoAttribute *whole = pango_attr_allow_breaks_new(FALSE);
        whole->start_index = (guint)i - 1;
        whole->end_index = (guint)(i + 1 + degree + letters);
        if (!list)
            list = pango_attr_list_new();
        pango_attr_list_insert(list, whole);
    }
    pango_layout_set_attributes(layout, list);
    if (list)
        pango_attr_list_unref(list);
}

/* width below 0: one line as long as it comes. */
static void set(bpi_type *t, bpi_font font, const char *text, double width, bpi_align align)
{
    PangoFontDescription *face = font.serif ? t->serif : t->sans;
    pango_font_description_set_weight(face, font.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(face, font.size * PANGO_SCALE);
    pango_layout_set_font_description(t->layout, face);
    pango_layout_set_wrap(t->layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_ellipsize(t->layout, PANGO_ELLIPSIZE_NONE);
    pango_layout_set_height(t->layout, -1);
    pango_layout_set_width(t->layout, width < 0 ? -1 : in_pango(width));
    pango_layout_set_alignment(t->layout, align == BPI_RIGHT    ? PANGO_ALIGN_RIGHT
                                          : align == BPI_CENTRE ? PANGO_ALIGN_CENTER
                                                                : PANGO_ALIGN_LEFT);
    pango_layout_set_text(t->layout, text, -1);
    keep_units(t->layout, width < 0 || !text[0] ? "" : text);
    if (!t->missing[0] && pango_layout_get_unknown_glyphs_count(t->layout) > 0)
        remember_missing(t, text);
}

double bpi_type_width(bpi_type *t, bpi_font font, const char *text)
{
    int width;
    set(t, font, text, -1, BPI_LEFT);
    pango_layout_get_size(t->layout, &width, NULL);
    return in_points(width);
}

double bpi_type_height(bpi_type *t, bpi_font font, const char *text, double width)
{
    int height;
    set(t, font, text, width, BPI_LEFT);
    pango_layout_get_size(t->layout, NULL, &height);
    return in_points(height);
}

void bpi_type_show(bpi_type *t, bpi_font font, const char *text, double x, double y, double width,
                   bpi_align align)
{
    set(t, font, text, width, align);
    cairo_move_to(t->cr, x, y);
    pango_cairo_show_layout(t->cr, t->layout);
}

bool bpi_type_show_cut(bpi_type *t, bpi_font font, const char *text, double x, double y,
                       double width, double height, bool draw)
{
    int tall, broad;
    set(t, font, text, width, BPI_LEFT);
    pango_layout_set_wrap(t->layout, PANGO_WRAP_WORD); /* a word broken anywhere does not fit */
    pango_layout_get_size(t->layout, &broad, &tall);
    bool whole = in_points(tall) <= height + 0.01 && in_points(broad) <= width + 0.01;
    if (!whole) {
        pango_layout_set_ellipsize(t->layout, PANGO_ELLIPSIZE_END);
        pango_layout_set_height(t->layout, in_pango(height));
    }
    if (draw) {
        cairo_move_to(t->cr, x, y);
        pango_cairo_show_layout(t->cr, t->layout);
    }
    return whole;
}

double bpi_type_lines(bpi_type *t, bpi_font font, const char *text, double x, double y,
                      double width, bpi_align align, double limit, uint32_t *line, bool draw)
{
    set(t, font, text, width, align);
    PangoLayoutIter *i = pango_layout_get_iter(t->layout);
    uint32_t n = 0;
    double shift = 0, used = 0;
    bool more = true;
    for (; more; more = pango_layout_iter_next_line(i), n++) {
        PangoRectangle box;
        int top, bottom;
        pango_layout_iter_get_line_yrange(i, &top, &bottom);
        if (n < *line)
            continue;
        if (n == *line)
            shift = in_points(top);
        if (y + in_points(bottom) - shift > limit + 0.01)
            break;
        used = in_points(bottom) - shift;
        if (draw) {
            pango_layout_iter_get_line_extents(i, NULL, &box);
            cairo_move_to(t->cr, x + in_points(box.x),
                          y - shift + in_points(pango_layout_iter_get_baseline(i)));
            pango_cairo_show_layout_line(t->cr, pango_layout_iter_get_line_readonly(i));
        }
    }
    pango_layout_iter_free(i);
    *line = more ? n : UINT32_MAX;
    return used;
}

bp_code bpi_type_check(const bpi_type *t, bp_errors *errs)
{
    if (!t->missing[0])
        return BP_OK;
    return bpi_error_f(errs, BP_EIO, BPI_NOWHERE,
                       "install a font that has them (Chinese, Japanese, Korean: Debian's "
                       "fonts-noto-cjk)",
                       "no font has all the letters of \"%s\"", t->missing);
}
