// What C expects of its library, as far as a contribution needs it. There is no
// library for wasm32-unknown-unknown, and one made for anything else would want
// to import files, a clock and a terminal.

#include <stdlib.h>
#include <string.h>

// Memory behind the contribution's own data; the linker gives the place.
extern unsigned char __heap_base;
static size_t next;

// Every call into a contribution begins afresh, with fresh memory. So nothing is
// ever given back: memory is handed out one piece after the other. Each piece
// has its size written before it, for `realloc`.
enum { ALIGN = 16, PAGE = 65536 };

void *malloc(size_t size) {
    if (!next) next = ((size_t)&__heap_base + ALIGN - 1) & ~(size_t)(ALIGN - 1);
    if (size > SIZE_MAX / 2) abort();
    size_t end = next + ALIGN + ((size + ALIGN - 1) & ~(size_t)(ALIGN - 1));
    size_t have = __builtin_wasm_memory_size(0) * PAGE;
    if (end > have && __builtin_wasm_memory_grow(0, (end - have + PAGE - 1) / PAGE) == SIZE_MAX) abort();
    unsigned char *piece = (unsigned char *)next + ALIGN;
    *(size_t *)(piece - sizeof(size_t)) = size;
    next = end;
    return piece;
}

void *calloc(size_t count, size_t size) {
    if (size && count > SIZE_MAX / 2 / size) abort();
    void *piece = malloc(count * size);
    return memset(piece, 0, count * size);
}

void *realloc(void *piece, size_t size) {
    void *larger = malloc(size);
    if (piece) {
        size_t had = *(size_t *)((unsigned char *)piece - sizeof(size_t));
        memcpy(larger, piece, had < size ? had : size);
    }
    return larger;
}

void free(void *piece) { (void)piece; }

_Noreturn void abort(void) { __builtin_trap(); }

void *memcpy(void *restrict to, const void *restrict from, size_t count) {
    unsigned char *t = to;
    const unsigned char *f = from;
    while (count--) *t++ = *f++;
    return to;
}

void *memset(void *to, int byte, size_t count) {
    unsigned char *t = to;
    while (count--) *t++ = (unsigned char)byte;
    return to;
}

int memcmp(const void *one, const void *other, size_t count) {
    const unsigned char *a = one, *b = other;
    for (; count--; a++, b++) {
        if (*a != *b) return *a - *b;
    }
    return 0;
}

size_t strlen(const char *text) {
    const char *end = text;
    while (*end) end++;
    return (size_t)(end - text);
}
