#include "model/heating.h"

/* "soup" is pea soup, and what is not like any of these counts as water, which takes longest. */
const bpi_heating_food bpi_heating_foods[] = {{"water", 4185},    {"milk", 3850},
                                              {"soup", 4100},     {"tomatoes", 3980},
                                              {"potatoes", 3520}, {NULL, 0}};

int64_t bpi_heating_mass(const bpi_heating *h, bpi_ratio size)
{
    int64_t whole = h->mass_mg * size.num; /* below 2^28 x 2^32 */
    return whole / size.den + (whole % size.den != 0);
}

int64_t bpi_heating_seconds(const bpi_heating *h, int64_t mass_mg)
{
    int64_t rise = h->to_mC - h->from_mC;
    if (mass_mg <= 0 || rise <= 0)
        return 0;
    if (mass_mg > BPI_HEATING_HEAVIEST)
        return BPI_HEATING_MOST;
    int64_t nano = mass_mg * bpi_heating_foods[h->of].c * rise; /* mg x J/kgK x mK are nJ */
    int64_t each = (int64_t)h->watts * h->percent * 10000000;   /* nJ/s */
    int64_t seconds = nano / each + (nano % each != 0);
    return seconds < BPI_HEATING_MOST ? seconds : BPI_HEATING_MOST;
}
