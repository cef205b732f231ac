#include "dump.h"

#include <string.h>

#include "fuzz.h"

void fuzz_dump_read(fuzz_dump *out, const char *bytes, size_t length) {
    *out = (fuzz_dump){.arena = sw_arena_new(), .faults = sw_complaints_new()};
    sw_statements_begin(&out->list, out->arena);
    sw_status status = sw_dump_tell(&out->kind, &out->list, "dump", bytes, length, out->faults);
    fuzz_hold(status == SW_OK && !out->list.failed && !out->list.misuse, "the reader failed: %d",
              status);
#ifdef FUZZ_FAULT
    if (out->list.count > 0 && out->list.count % 8 == 3)
        out->list.all[out->list.count - 1].device = "board\n";
#endif
}

void fuzz_dump_check(const fuzz_dump *dump) {
    size_t faults = sw_complaints_count(dump->faults);
    fuzz_complaints(faults == 0 ? SW_OK : SW_BAD_DATA, dump->faults);
    fuzz_hold(dump->kind != SW_DUMP_NONE || dump->list.count == 0, "nothing known, yet stated");
    for (size_t i = 0; i < dump->list.count; i++) {
        const sw_statement *one = &dump->list.all[i];
        fuzz_hold(fuzz_is_readable(one->device) && fuzz_is_readable(one->key) &&
                      fuzz_is_readable(one->property) && fuzz_is_readable(one->place),
                  "unreadable: %s %s %s %s", one->device, one->key, one->property, one->place);
        fuzz_hold(one->text != NULL && (one->says == SW_SAYS_TEXT) == (one->text[0] != '\0') &&
                      fuzz_is_readable(one->text) &&
                      (one->says != SW_SAYS_TEXT || !sw_says_unknown(one->text)),
                  "%s: \"%s\"", one->property, one->text);
    }
    for (size_t i = 0; i < dump->list.private_count; i++)
        fuzz_hold(fuzz_is_readable(dump->list.privates[i].value), "a private text");
}

bool fuzz_dump_same(const fuzz_dump *a, const fuzz_dump *b) {
    if (a->kind != b->kind || a->list.count != b->list.count ||
        sw_complaints_count(a->faults) != sw_complaints_count(b->faults))
        return false;
    for (size_t i = 0; i < a->list.count; i++) {
        const sw_statement *one = &a->list.all[i], *other = &b->list.all[i];
        if (strcmp(one->device, other->device) != 0 || strcmp(one->key, other->key) != 0 ||
            strcmp(one->property, other->property) != 0 || one->says != other->says ||
            strcmp(one->text, other->text) != 0 || one->milli != other->milli ||
            one->flag != other->flag)
            return false;
    }
    return true;
}

void fuzz_dump_free(fuzz_dump *dump) {
    sw_complaints_free(dump->faults);
    sw_arena_free(dump->arena);
}
