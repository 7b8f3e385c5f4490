// The part of <string.h> that runtime.c has.
#pragma once
#include <stddef.h>

void *memcpy(void *restrict to, const void *restrict from, size_t count);
void *memset(void *to, int byte, size_t count);
int memcmp(const void *one, const void *other, size_t count);
size_t strlen(const char *text);
