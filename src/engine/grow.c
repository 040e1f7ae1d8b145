#include "engine/grow.h"

#include "base/limits.h"
#include "base/memory.h"

bool bpi_grow_to(void **data, uint32_t *room, uint64_t n, size_t size)
{
    uint64_t more = *room ? (uint64_t)*room * 2 : BPI_LIST_FIRST;
    if (more < n)
        more = n;
    if (more > UINT32_MAX || more > SIZE_MAX / size)
        return false;
    void *grown = bpi_mem_grow(*data, (size_t)more * size);
    if (!grown)
        return false;
    *data = grown;
    *room = (uint32_t)more;
    return true;
}
