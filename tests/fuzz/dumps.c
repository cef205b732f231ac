/* Dumps as text, told apart by what they hold: the same again with a byte order mark, with the line
 * ends of other systems, and as UTF-16. */
#include <stdlib.h>
#include <string.h>

#include "dump.h"
#include "fuzz.h"

/* UTF-16, low byte first, with a mark, as shells of other systems write it. */
static char *as_utf16(size_t *length, const char *text) {
    char *out = malloc(strlen(text) * 2 + 2);
    if (out == NULL)
        abort();
    size_t at = 0;
    out[at++] = (char)0xFF;
    out[at++] = (char)0xFE;
    for (; *text != '\0'; text++) {
        out[at++] = *text;
        out[at++] = 0;
    }
    *length = at;
    return out;
}

static bool is_ascii_text(const char *text, size_t size) {
    for (size_t i = 0; i < size; i++)
        if ((unsigned char)text[i] >= 0x80 || text[i] == '\0')
            return false;
    /* What begins so is an SMBIOS dump, whatever follows, and no text. */
    return size > 0 && strncmp(text, "_SM_", 4) != 0 && strncmp(text, "_SM3_", 5) != 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = fuzz_text(data, size);
    fuzz_dump dump, other;
    fuzz_dump_read(&dump, text, size);
    fuzz_dump_check(&dump);
    if (is_ascii_text(text, size)) {
        size_t length = 0;
        char *wide = as_utf16(&length, text);
        fuzz_dump_read(&other, wide, length);
        fuzz_hold(fuzz_dump_same(&dump, &other), "as UTF-16 it says something else");
        fuzz_dump_free(&other);
        char *marked = malloc(size + 3);
        memcpy(marked, "\xEF\xBB\xBF", 3);
        memcpy(marked + 3, text, size);
        fuzz_dump_read(&other, marked, size + 3);
        fuzz_hold(fuzz_dump_same(&dump, &other), "with a mark it says something else");
        fuzz_dump_free(&other);
        free(marked);
        free(wide);
    }
    fuzz_dump_free(&dump);
    free(text);
    return 0;
}
