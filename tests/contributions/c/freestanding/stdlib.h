// The part of <stdlib.h> that runtime.c has.
#pragma once
#include <stddef.h>
#include <stdint.h>

void *malloc(size_t size);
void *calloc(size_t count, size_t size);
void *realloc(void *piece, size_t size);
void free(void *piece);
_Noreturn void abort(void);
