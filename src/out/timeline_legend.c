#include "out/timeline_legend.h"

#include <string.h>

#include "out/facts.h"
#include "out/timeline_view.h"

static const char *legend_text(bpi_page *p, const bp_op *op)
{
    char from[BP_CLOCK_ROOM], to[BP_CLOCK_ROOM];
    const char *codes = bpi_page_keep(p, bpi_fact_codes(p->arena, p->plan, op->serves));
    const char *s =
        bpi_page_f(p, "%s\xE2\x80\x93%s%s%s: %s", bp_plan_clock(from, p->plan, op->from),
                   bp_plan_clock(to, p->plan, op->to), *codes ? "  " : "", codes, op->text);
    if (*op->oven_text && !strstr(op->text, op->oven_text))
        s = bpi_page_f(p, "%s, %s", s, op->oven_text);
    if (op->person != BP_NO_INDEX)
        s = bpi_page_f(p, "%s (%s)", s, p->plan->person[op->person].name);
    return s;
}

void bpi_tl_draw_legend(bpi_page *p)
{
    uint32_t columns = (uint32_t)((p->right - p->left) / 330);
    if (columns == 0)
        columns = 1;
    double w = (p->right - p->left) / columns, top = p->y, lowest = top;
    uint32_t column = 0, count = 0, each = 0;
    for (uint32_t i = 0; i < p->plan->ops; i++)
        count += p->plan->op[i].kind != BP_OP_WAIT && p->plan->op[i].kind != BP_OP_SET;
    each = (count + columns - 1) / columns;
    for (uint32_t i = 0, n = 0; i < p->plan->ops; i++) {
        const bp_op *op = &p->plan->op[i];
        if (op->kind == BP_OP_WAIT || op->kind == BP_OP_SET)
            continue;
        const char *text = legend_text(p, op);
        double high = bpi_type_height(p->type, BPI_TL_FONT_BAR, text, w - 34) + 2;
        if ((p->y + high > p->bottom || n == each) && p->y > top) {
            n = 0;
            p->y = top;
            if (++column == columns) {
                bpi_page_begin(p);
                column = 0;
                lowest = top = p->y;
            }
        }
        n++;
        double x = p->left + column * w;
        bpi_page_text(p, BPI_TL_FONT_BOLD, bpi_page_f(p, "%u", (unsigned)i + 1), x, p->y, 22,
                      BPI_RIGHT);
        bpi_page_text(p, BPI_TL_FONT_BAR, text, x + 26, p->y, w - 34, BPI_LEFT);
        p->y += high;
        if (p->y > lowest)
            lowest = p->y;
    }
    p->y = lowest;
}
