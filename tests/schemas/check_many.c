/* What the readers say of many files, each put in the place of one file of a host, by one process.
 *
 *     check-many PLACE [CATALOG] <files
 *
 * Each line of standard input names a file. It is copied to PLACE; then the catalog's folder is
 * checked, or, where none is given, the file itself. For each comes one line: the status, the
 * number of complaints, then the complaints, with tabs between all.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "swapworth.h"

/* One byte behind another: what is copied here has some thousand. */
static bool copy(const char *from, const char *to) {
    FILE *in = fopen(from, "rb"), *out = in == NULL ? NULL : fopen(to, "wb");
    bool good = out != NULL;
    for (int byte = good ? getc(in) : EOF; byte != EOF && good; byte = getc(in))
        good = putc(byte, out) != EOF;
    good = good && !ferror(in);
    if (in != NULL)
        fclose(in);
    return (out == NULL || fclose(out) == 0) && good;
}

static void print_text(const char *text) {
    putchar('\t');
    for (; *text != '\0'; text++)
        putchar(*text == '\n' || *text == '\t' ? ' ' : *text);
}

static void check(const char *place, const char *folder) {
    sw_complaints *complaints = sw_complaints_new();
    if (complaints == NULL)
        abort();
    sw_status status = folder != NULL ? sw_catalog_check(folder, complaints)
                                      : sw_file_check(place, NULL, complaints);
    printf("%d\t%zu", (int)status, sw_complaints_count(complaints));
    for (size_t i = 0; sw_complaints_get(complaints, i) != NULL; i++) {
        const sw_complaint *one = sw_complaints_get(complaints, i);
        const char *const texts[] = {one->file, one->place, one->what, one->why, one->mend};
        for (size_t t = 0; t < sizeof texts / sizeof *texts; t++)
            print_text(texts[t]);
    }
    putchar('\n');
    sw_complaints_free(complaints);
}

int main(int argc, char **argv) {
    char *line = NULL;
    size_t room = 0;
    for (ssize_t length; argc >= 2 && (length = getline(&line, &room, stdin)) > 0;) {
        line[length - (line[length - 1] == '\n')] = '\0';
        if (!copy(line, argv[1])) {
            fprintf(stderr, "%s cannot be copied\n", line);
            free(line);
            return 1;
        }
        check(argv[1], argc > 2 ? argv[2] : NULL);
    }
    free(line);
    return argc >= 2 ? 0 : 2;
}
