/* src/model/nutrient.h - nutrients by name, with their published daily values.
 *
 * Owns     the table, and reading "120 mg".
 * May use  base/.
 * Units    nanograms; energy is thousandths of a kilocalorie. Servings are tenths of a gram.
 */
#ifndef BP_MODEL_NUTRIENT_H
#define BP_MODEL_NUTRIENT_H

#include <stdint.h>

#include "model/fault.h"

typedef enum bpi_nutrient_id {
    BPI_ENERGY,
    BPI_FAT,
    BPI_SATURATED_FAT,
    BPI_TRANS_FAT,
    BPI_CHOLESTEROL,
    BPI_SODIUM,
    BPI_CARBOHYDRATE,
    BPI_FIBER,
    BPI_SUGARS,
    BPI_ADDED_SUGARS,
    BPI_PROTEIN,
    BPI_VITAMIN_A,
    BPI_VITAMIN_C,
    BPI_VITAMIN_D,
    BPI_VITAMIN_E,
    BPI_VITAMIN_K,
    BPI_THIAMIN,
    BPI_RIBOFLAVIN,
    BPI_NIACIN,
    BPI_VITAMIN_B6,
    BPI_FOLATE,
    BPI_VITAMIN_B12,
    BPI_BIOTIN,
    BPI_PANTOTHENIC,
    BPI_CHOLINE,
    BPI_CALCIUM,
    BPI_IRON,
    BPI_PHOSPHORUS,
    BPI_IODINE,
    BPI_MAGNESIUM,
    BPI_ZINC,
    BPI_SELENIUM,
    BPI_COPPER,
    BPI_MANGANESE,
    BPI_CHROMIUM,
    BPI_MOLYBDENUM,
    BPI_CHLORIDE,
    BPI_POTASSIUM,
    BPI_NUTRIENTS
} bpi_nutrient_id;

typedef struct bpi_nutrient {
    const char *name;  /* as in a show file                              */
    int64_t daily;     /* daily value, adults and children from four; 0: none is published */
    const char *where; /* paragraph of 21 CFR that has it; ""            */
} bpi_nutrient;

extern const bpi_nutrient bpi_nutrients[BPI_NUTRIENTS];

#define BPI_NOT_STATED   (-1)
#define BPI_MAX_NUTRIENT INT64_C(1000000000000) /* 1 kg; 10^9 kcal is far above what is read   */
#define BPI_MAX_SERVING  20000                  /* 2 kg: products of both stay in 64 bits      */

/* What is in food, as a show file states it. */
typedef struct bpi_nutrition {
    int64_t serving, reference;    /* tenths of a gram; BPI_NOT_STATED                          */
    bool stated, meal;             /* meal: a meal or a main dish                               */
    const char *source;            /* where the figures are from                                */
    int64_t amount[BPI_NUTRIENTS]; /* in one serving; BPI_NOT_STATED                            */
} bpi_nutrition;

void bpi_nutrition_init(bpi_nutrition *n);

/* Read "2.4 mcg", "120 mg", "5 g", or with `energy` "210 kcal": at most three digits behind the point. */
bool bpi_nutrient_read(int64_t *out, const char *text, size_t len, bool energy, bpi_fault *f);

/* Read a serving: "330 g", "28.5 g", above 0 and at most 2 kg. */
bool bpi_serving_read(int64_t *out, const char *text, size_t len, bpi_fault *f);

#endif
