/* src/goods/measure.h - amounts that can be scaled, added, counted in packs and printed.
 *
 * Owns     the arithmetic of amounts. The units are model/quantity's.
 * May use  model/quantity, model/weight, base/.
 * Units    an exact fraction num/den of a microgram (mass), a nanolitre (volume) or a piece. Nothing is
 *          rounded before it is printed, and then always up: a cook is never left short.
 *
 * Only like is added to like: mass to mass, volume to volume, a counting word to the same word, packs to
 * packs of the same size. No density is ever assumed: where the show states what a measure weighs, a
 * volume or a count becomes a mass.
 */
#ifndef BP_GOODS_MEASURE_H
#define BP_GOODS_MEASURE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"
#include "model/quantity.h"
#include "model/weight.h"

typedef struct bpi_measure {
    bpi_dimension dimension;
    bool customary;             /* print in cups and pounds, not in litres and grams            */
    uint32_t unit;              /* of a count: its word, an index into bpi_units                */
    const char *word;           /* a counting word outside that table, such as "can"; ""        */
    int64_t num, den;           /* den >= 1, lowest terms                                       */
    int64_t each_num, each_den; /* mass or volume in packs ("2 x 400 g can"): one of them; else 0 */
} bpi_measure;

/* The measure of a quantity as written; `word` then points into *q. false: larger than can be held,
 * *out is kept. */
bool bpi_measure_of(bpi_measure *out, const bpi_quantity *q);

/* The same of a quantity that is not in packs, which always fits. */
void bpi_measure_of_plain(bpi_measure *out, const bpi_quantity *q);

/* Multiply by num/den, both above 0. false: larger than can be held, *m is kept. */
bool bpi_measure_scale(bpi_measure *m, uint32_t num, uint32_t den);

/* Make a volume or a count into the mass it has by a stated weight. false: they are not of one kind, it
 * is in packs, or larger than can be held; *m is kept. */
bool bpi_measure_weigh(bpi_measure *m, const bpi_weight *weight);

/* Take what there is off what is needed, both alike, on both sides; false: nothing more is needed. Where
 * the difference cannot be held, all of it is still needed. */
bool bpi_measure_take(bpi_measure *need, bpi_measure *there);

/* May the two be added? Two without an amount ("to taste") may. */
bool bpi_measure_alike(const bpi_measure *a, const bpi_measure *b);

/* Add `more`, which must be alike. A sum of metric and customary amounts is metric. false: larger than
 * can be held, *sum is kept. */
bool bpi_measure_add(bpi_measure *sum, const bpi_measure *more);

/* How many whole packs hold `need`; 0: cannot be told, they are not of one kind. */
int64_t bpi_measure_packs(const bpi_measure *need, const bpi_measure *pack);

/* Append the amount in the largest units a cook measures with: "1 1/2 cups", "2 tbsp + 1 tsp",
 * "1 quart + 2/3 cup", "1 lb + 12 oz", "680 g", "1.25 kg", "1 1/2 x 400 g can", "3", "1 1/2 bunches";
 * "to taste" where there is none. Rounded up, where that is needed: to 1 g or 1 ml (below ten of
 * them, to a tenth), or to the next of 1/8, 1/4, 1/3, 1/2, 2/3, 3/4 tsp or oz. */
void bpi_measure_put(bpi_text *out, const bpi_measure *m);

/* Append so many of one pack: "2 x 400 g can", "3 bunches", "2 x 6", "2 x (6 x 330 ml)". */
void bpi_measure_put_packs(bpi_text *out, int64_t packs, const bpi_measure *pack);

#endif
