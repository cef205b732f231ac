/* A binary SMBIOS dump. The checksums of its entry points are set right, so that what lies behind
 * is reached. */
#include <stdlib.h>
#include <string.h>

#include "dump.h"
#include "fuzz.h"

static void set_sum(unsigned char *bytes, size_t length, size_t at) {
    unsigned sum = 0;
    bytes[at] = 0;
    for (size_t i = 0; i < length; i++)
        sum += bytes[i];
    bytes[at] = (unsigned char)(0x100 - (sum & 0xFF));
}

/* DSP0134 section 5.2: "_SM_" with its intermediate part from 10h, "_SM3_". */
static void set_sums(unsigned char *bytes, size_t size) {
    if (size >= 0x1F && memcmp(bytes, "_SM_", 4) == 0) {
        if (bytes[5] >= 0x1F && bytes[5] <= size) {
            set_sum(bytes + 0x10, 0x0F, 5);
            set_sum(bytes, bytes[5], 4);
        }
    } else if (size >= 0x18 && memcmp(bytes, "_SM3_", 5) == 0 && bytes[6] >= 0x18 &&
               bytes[6] <= size) {
        set_sum(bytes, bytes[6], 5);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *bytes = fuzz_text(data, size);
    fuzz_dump dump, again;
    if (size > 5 && data[size - 1] % 16 != 0) /* some keep what they have */
        set_sums((unsigned char *)bytes, size);
    fuzz_dump_read(&dump, bytes, size);
    fuzz_dump_check(&dump);
    if (size >= 5 && memcmp(bytes, "_SM", 3) == 0)
        fuzz_hold(sw_complaints_count(dump.faults) <= 1, "%zu complaints of one dump",
                  sw_complaints_count(dump.faults));
    fuzz_dump_read(&again, bytes, size);
    fuzz_hold(fuzz_dump_same(&dump, &again), "read again it says something else");
    fuzz_dump_free(&again);
    fuzz_dump_free(&dump);
    free(bytes);
    return 0;
}
