/* What a display says of itself. The checksum of each block is set right, so that what lies in it
 * is reached. */
#include <stdlib.h>
#include <string.h>

#include "dump.h"
#include "fuzz.h"

#define BLOCK 128

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *bytes = fuzz_text(data, size);
    fuzz_dump dump, cut;
    bool mend = size > 0 && data[size - 1] % 16 != 0; /* some keep what they have */
    for (size_t at = 0; mend && at + BLOCK <= size; at += BLOCK) {
        unsigned sum = 0;
        for (size_t i = 0; i < BLOCK - 1; i++)
            sum += (unsigned char)bytes[at + i];
        bytes[at + BLOCK - 1] = (char)(0x100 - (sum & 0xFF));
    }
    fuzz_dump_read(&dump, bytes, size);
    fuzz_dump_check(&dump);
    for (size_t i = 0; i < dump.list.count; i++) {
        const sw_statement *one = &dump.list.all[i];
        fuzz_hold(one->says != SW_SAYS_NUMBER || one->milli >= 0, "%s is %lld", one->property,
                  (long long)one->milli);
    }
    /* Less than a block behind those that it announces says nothing. */
    size_t announced = size >= BLOCK ? ((size_t)(unsigned char)bytes[126] + 1) * BLOCK : size;
    if (dump.kind == SW_DUMP_EDID && announced < size && size < announced + BLOCK) {
        fuzz_dump_read(&cut, bytes, announced);
        fuzz_hold(cut.list.count == dump.list.count, "what stands behind it counts");
        fuzz_dump_free(&cut);
    }
    fuzz_dump_free(&dump);
    free(bytes);
    return 0;
}
