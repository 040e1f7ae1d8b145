#include "model/fault.h"

#include <stdarg.h>
#include <stdio.h>

bool bpi_fault_set(bpi_fault *f, size_t at, const char *right, const char *wrong, ...)
{
    va_list args;
    va_start(args, wrong);
    vsnprintf(f->wrong, sizeof f->wrong, wrong, args);
    va_end(args);
    snprintf(f->right, sizeof f->right, "%s", right);
    f->at = at;
    return false;
}

bool bpi_fault_right(bpi_fault *f, const char *right, ...)
{
    va_list args;
    va_start(args, right);
    vsnprintf(f->right, sizeof f->right, right, args);
    va_end(args);
    return false;
}
