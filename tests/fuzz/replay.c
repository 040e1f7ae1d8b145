/* tests/fuzz/replay.c - runs a fuzz entry over the files named, without a fuzzer. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len);

static int run_one(const char *path)
{
    FILE *f = fopen(path, "rb");
    if (!f || fseek(f, 0, SEEK_END) != 0) {
        perror(path);
        return 1;
    }
    long size = ftell(f);
    rewind(f);
    /* A block of just this size, so that the address sanitizer sees a byte read past it. */
    uint8_t *data = malloc(size > 0 ? (size_t)size : 1);
    if (!data || size < 0 || fread(data, 1, (size_t)size, f) != (size_t)size) {
        perror(path);
        return 1;
    }
    fclose(f);
    LLVMFuzzerTestOneInput(data, (size_t)size); /* ends the program where it finds fault */
    free(data);
    return 0;
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        fprintf(stderr, "no input was given\n");
        return EXIT_FAILURE;
    }
    int failed = 0;
    for (int i = 1; i < argc; i++)
        failed |= run_one(argv[i]);
    if (!failed)
        printf("%d passed, 0 failed\n", argc - 1);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
