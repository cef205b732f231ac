/* Tables per RFC 4180, and files as bytes. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "outcome.h"
#include "read/bytes.h"

/* ---- CSV: RFC 4180 ---------------------------------------------------------------------- */

static outcome read_csv(const char *bytes, size_t length) {
    outcome is = start();
    char *copy = malloc(length == 0 ? 1 : length);
    if (length > 0)
        memcpy(copy, bytes, length);
    is.status = sw_csv_read(&is.table, is.arena, "t.csv", copy, length, is.complaints);
    free(copy);
    return is;
}

/* Cells joined by "|", rows by "/", the header in front. */
static void expect_cells(const char *bytes, size_t length, const char *cells) {
    outcome is = read_csv(bytes, length);
    sw_text text = {0};
    cr_expect_eq(is.status, SW_OK, "%s: %s", bytes, what_of(&is));
    for (size_t r = 0; is.status == SW_OK && r <= is.table.count; r++)
        for (size_t c = 0; c < is.table.width; c++)
            sw_text_addf(&text, "%s%s",
                         c > 0   ? "|"
                         : r > 0 ? "/"
                                 : "",
                         r == 0 ? is.table.header[c] : is.table.rows[r - 1].cells[c]);
    if (is.status == SW_OK)
        cr_expect_str_eq(text.bytes, cells);
    sw_text_free(&text);
    finish(&is);
}

Test(csv, cells) {
    static const struct {
        sample text;
        const char *cells;
    } rows[] = {
        {BYTES("a,b,c\r\n"), "a|b|c"},            /* 2.1, 2.2 */
        {BYTES("a,b,c"), "a|b|c"},                /* the last line end may miss */
        {BYTES("a,b,c\n1,2,3\n"), "a|b|c/1|2|3"}, /* bare line feeds */
        {BYTES("x,y,z\r\n\"a\",\"b\r\nc\",\"d\"\r\n"), "x|y|z/a|b\r\nc|d"}, /* 2.6 */
        {BYTES("x,y\r\n\"a\"\"b\",c\r\n"), "x|y/a\"b|c"},                   /* 2.7 */
        {BYTES("x,y\r\n\"a,b\",c\r\n"), "x|y/a,b|c"},
        {BYTES("x,y,z\r\na,,c\r\n"), "x|y|z/a||c"},
        {BYTES("x,y\r\n a , b \r\n"), "x|y/ a | b "}, /* 2.4: spaces are data */
        {BYTES("x,y\r\n\"\",x\r\n"), "x|y/|x"},
        {BYTES("x,y\r\n,\r\n"), "x|y/|"},
        {BYTES("x,y\r\n\" a \",\t\r\n"), "x|y/ a |\t"},
        {BYTES("\xef\xbb\xbfx,y\r\n1,2\r\n"), "x|y/1|2"}, /* one mark is dropped */
        {BYTES("x,y\r\n\"\"\"\",\"\n\"\r\n"), "x|y/\"|\n"},
        {BYTES("\xc3\xa9\r\n\xe2\x82\xac\r\n"), "\xc3\xa9/\xe2\x82\xac"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        expect_cells(rows[i].text.bytes, rows[i].text.length, rows[i].cells);
}

Test(csv, refused) {
    static const struct {
        sample text;
        const char *place, *what;
    } rows[] = {
        {BYTES(""), "line 1", "no header"},
        {BYTES("\xef\xbb\xbf"), "line 1", "no header"},
        {BYTES("\n1,2\n"), "line 1", "empty"},
        {BYTES("a,b\n1\n"), "line 2", "1 cells"},
        {BYTES("a,b\n1,2,3\n"), "line 2", "3 cells"},
        {BYTES("a,b\n1,2\n\n"), "line 3", "empty"},
        {BYTES("a,b\na\"b,c\n"), "line 2", "stray quote"},
        {BYTES("a,b\n\"a\"b,c\n"), "line 2", "stray quote"},
        {BYTES("a,b\n\"a\" ,c\n"), "line 2", "stray quote"},
        {BYTES("a,b\n1, \"c\"\n"), "line 2", "stray quote"},
        {BYTES("a,b\n1,\"c\n3,4\n"), "line 2", "never closed"},
        {BYTES("a,b\n\"1\n2\",3\n4\n"), "line 4", "1 cells"},
        {BYTES("a,b\n1,\0\n"), "line 2", "NUL"},
        {BYTES("a,b\n1,\xff\n"), "line 2", "not UTF-8"},
        {BYTES("a,b\n1,\"x\n\xff\"\n"), "line 3", "not UTF-8"},
        {BYTES("a,b\r1,2\r"), "line 1", "carriage return"},
        {BYTES("\xff\xfe"
               "a\0,\0"),
         "line 1", "not UTF-8"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        outcome is = read_csv(rows[i].text.bytes, rows[i].text.length);
        const sw_complaint *first = sw_complaints_get(is.complaints, 0);
        cr_expect_eq(is.status, SW_BAD_DATA, "row %zu", i);
        cr_expect_eq(sw_complaints_count(is.complaints), 1, "row %zu", i);
        if (first != NULL) {
            cr_expect_str_eq(first->place, rows[i].place, "row %zu: %s", i, first->place);
            cr_expect_not_null(strstr(first->what, rows[i].what), "row %zu: %s", i, first->what);
        }
        finish(&is);
    }
}

Test(csv, one_bad_row_hides_no_other) {
    static const char text[] = "a,b\n1\"x,2\n3,4\n5\n\xff,6\n7,8\n";
    static const char *const places[] = {"line 2", "line 4", "line 5"};
    outcome is = read_csv(text, sizeof text - 1);
    cr_assert_eq(sw_complaints_count(is.complaints), COUNT(places));
    for (size_t i = 0; i < COUNT(places); i++)
        cr_expect_str_eq(sw_complaints_get(is.complaints, i)->place, places[i]);
    finish(&is);
}

Test(csv, rows_know_their_lines) {
    static const char text[] = "a,b\r\n\"1\r\n\r\n\",2\r\n3,4\r\n";
    outcome is = read_csv(text, sizeof text - 1);
    cr_assert_eq(is.status, SW_OK);
    cr_assert_eq(is.table.count, 2);
    cr_expect_eq(is.table.rows[0].line, 2);
    cr_expect_eq(is.table.rows[1].line, 5);
    finish(&is);
}

Test(csv, rows_are_bounded) {
    sw_text text = {0};
    sw_text_add(&text, "a\n");
    for (int i = 0; i < 200001; i++)
        sw_text_add(&text, "1\n");
    outcome is = read_csv(text.bytes, text.length);
    cr_expect_eq(is.status, SW_BAD_DATA);
    cr_expect_not_null(strstr(what_of(&is), "too many rows"));
    finish(&is);
    is = read_csv(text.bytes, text.length - 2);
    cr_expect_eq(is.status, SW_OK);
    cr_expect_eq(is.table.count, 200000);
    finish(&is);
    sw_text_free(&text);
}

Test(csv, survives_mutation) {
    static const char text[] = "a,b\r\n\"x\"\"y\",2\r\n3,\"4\n5\"\r\n";
    static const char bytes[] = "\",\r\n\x00\xff x";
    for (size_t at = 0; at < sizeof text - 1; at++)
        for (size_t b = 0; b < sizeof bytes - 1; b++) {
            char changed[sizeof text];
            memcpy(changed, text, sizeof text);
            changed[at] = bytes[b];
            outcome is = read_csv(changed, sizeof text - 1);
            cr_expect_eq(is.status == SW_OK, sw_complaints_count(is.complaints) == 0);
            finish(&is);
        }
}

/* ---- bytes -------------------------------------------------------------------------------- */

static void write_file(const char *path, const char *bytes, size_t length) {
    FILE *file = fopen(path, "wb");
    cr_assert_not_null(file, "%s", path);
    cr_assert_eq(fwrite(bytes, 1, length, file), length);
    cr_assert_eq(fclose(file), 0);
}

Test(bytes, whole_files_and_their_failures) {
    char folder[] = "/tmp/swapworth-read-XXXXXX", path[64];
    cr_assert_not_null(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/a.bin", folder);
    outcome is = start();
    const char *bytes = NULL;
    size_t length = 99;
    write_file(path, "a\0b", 3);
    cr_expect_eq(sw_bytes_read(&bytes, &length, is.arena, path, is.complaints), SW_OK);
    cr_expect(length == 3 && memcmp(bytes, "a\0b\0", 4) == 0);
    write_file(path, "", 0);
    cr_expect_eq(sw_bytes_read(&bytes, &length, is.arena, path, is.complaints), SW_OK);
    cr_expect(length == 0 && bytes[0] == '\0');
    cr_expect_eq(sw_complaints_count(is.complaints), 0);
    cr_expect_eq(sw_bytes_read(&bytes, &length, is.arena, folder, is.complaints), SW_CANNOT_READ);
    remove(path);
    cr_expect_eq(sw_bytes_read(&bytes, &length, is.arena, path, is.complaints), SW_CANNOT_READ);
    cr_assert_eq(sw_complaints_count(is.complaints), 2);
    cr_expect_str_eq(sw_complaints_get(is.complaints, 0)->file, folder);
    cr_expect_str_eq(sw_complaints_get(is.complaints, 1)->file, path);
    rmdir(folder);
    finish(&is);
}

Test(bytes, endless_files_are_cut_off) {
    outcome is = start();
    const char *bytes = NULL;
    size_t length = 0;
    cr_expect_eq(sw_bytes_read(&bytes, &length, is.arena, "/dev/zero", is.complaints), SW_BAD_DATA);
    cr_expect_not_null(strstr(what_of(&is), "too large"));
    cr_expect_null(bytes);
    finish(&is);
}

Test(bytes, folders_are_listed_in_byte_order) {
    static const char *const names[] = {"b.json", "a.json", "C.json",       ".h.json",
                                        "x.csv",  "ajson",  "\xc3\xa9.json"};
    static const char *const listed[] = {"C.json", "a.json", "b.json", "\xc3\xa9.json"};
    char folder[] = "/tmp/swapworth-read-XXXXXX", path[80];
    cr_assert_not_null(mkdtemp(folder));
    for (size_t i = 0; i < COUNT(names); i++) {
        snprintf(path, sizeof path, "%s/%s", folder, names[i]);
        write_file(path, "", 0);
    }
    snprintf(path, sizeof path, "%s/d.json", folder);
    cr_assert_eq(mkdir(path, 0700), 0);
    outcome is = start();
    const char *const *found = NULL;
    size_t count = 0;
    cr_expect_eq(sw_folder_list(&found, &count, is.arena, folder, ".json", is.complaints), SW_OK);
    cr_assert_eq(count, COUNT(listed));
    for (size_t i = 0; i < count; i++)
        cr_expect_str_eq(found[i], listed[i]);
    rmdir(path);
    for (size_t i = 0; i < COUNT(names); i++) {
        snprintf(path, sizeof path, "%s/%s", folder, names[i]);
        remove(path);
    }
    rmdir(folder);
    cr_expect_eq(sw_folder_list(&found, &count, is.arena, folder, ".json", is.complaints),
                 SW_CANNOT_READ);
    cr_expect_eq(sw_complaints_count(is.complaints), 1);
    finish(&is);
}
