#include "model/limitset.h"

/* src/model/limits/NAME.json, made into numbers by the Makefile. */
#include "model/limits.inc"

const bpi_limit_file bpi_limit_files[] = {BPI_LIMIT_FILES};
const uint32_t bpi_limit_file_count = sizeof bpi_limit_files / sizeof *bpi_limit_files;
