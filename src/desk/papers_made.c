/* Tickets and their papers. */
#include "desk/papers_made.h"

#include <stdlib.h>
#include <string.h>
#include <sys/random.h>

#define PAPERS_MOST 32
#define BYTES_MOST ((size_t)64 * 1024 * 1024)
#define SECONDS_KEPT 600.0

struct sw_papers_made {
    sw_paper_made list[PAPERS_MOST]; /* the oldest first */
    size_t count, bytes;
};

bool sw_random_digits(char *out, size_t digits) {
    unsigned char bytes[16];
    if (getrandom(bytes, sizeof bytes, 0) != (ssize_t)sizeof bytes)
        return false;
    for (size_t i = 0; i < digits; i++)
        out[i] = "0123456789abcdef"[(bytes[i / 2] >> (i % 2 * 4)) & 15];
    out[digits] = '\0';
    return true;
}

sw_papers_made *sw_papers_made_new(void) { return calloc(1, sizeof(sw_papers_made)); }

static void drop_first(sw_papers_made *papers) {
    free(papers->list[0].bytes);
    papers->bytes -= papers->list[0].length;
    papers->count--;
    memmove(papers->list, papers->list + 1, papers->count * sizeof *papers->list);
}

void sw_papers_made_free(sw_papers_made *papers) {
    while (papers != NULL && papers->count > 0)
        drop_first(papers);
    free(papers);
}

static void drop_old(sw_papers_made *papers, double now) {
    while (papers->count > 0 && papers->list[0].until < now)
        drop_first(papers);
}

const char *sw_paper_keep(sw_papers_made *papers, const char *type, char *bytes, size_t length,
                          double now) {
    drop_old(papers, now);
    while (papers->count == PAPERS_MOST ||
           (papers->count > 0 && papers->bytes + length > BYTES_MOST))
        drop_first(papers);
    sw_paper_made *made = &papers->list[papers->count];
    *made = (sw_paper_made){
        .type = type, .bytes = bytes, .length = length, .until = now + SECONDS_KEPT};
    if (bytes == NULL || !sw_random_digits(made->ticket, SW_TICKET_DIGITS)) {
        free(bytes);
        return NULL;
    }
    papers->count++;
    papers->bytes += length;
    return made->ticket;
}

const sw_paper_made *sw_paper_made_find(sw_papers_made *papers, const char *ticket, double now) {
    drop_old(papers, now);
    for (size_t i = 0; i < papers->count; i++)
        if (strcmp(papers->list[i].ticket, ticket) == 0)
            return &papers->list[i];
    return NULL;
}
