/* Scenarios that are refused, and what is said when several things are wrong at
 * once: every root cause, each once. */
#include <criterion/criterion.h>

#include "refused.h"

Test(refused_job, scenario) {
    static const row rows[] = {
        {"\"title\":\"t\"", "\"titel\":\"t\"", "$.titel", "unknown name", "title"},
        {"\"currency\":\"EUR\"", "\"currency\":\"USD\"", "$.currency", "USD", NULL},
        {"\"2026-03-02\"", "\"2026-02-29\"", "$.date", "no date", NULL},
        {"\"date\":\"2026-03-02\",", "", "$.given[0].arrives_on", "without a date", NULL},
        {"\"2026-04-01\"", "\"1.4.2026\"", "$.given[0].arrives_on", "no date", NULL},
        /* the machine */
        {"\"machine\":{\"memory\"", "\"machine\":{\"memmory\"", "$.machine.memmory", "not known",
         "memory"},
        {"{\"part\":\"mem-b\"}", "{\"part\":\"mem-c\"}", "$.machine.memory[0].part", "not known",
         "mem-"},
        {"{\"part\":\"mem-b\"}", "{\"part\":\"fan-a\"}", "$.machine.memory[0].part",
         "a part of the role \"fans\"", NULL},
        {"{\"part\":\"mem-b\"}", "{\"part\":\"mem-a\"}", "$.machine.memory[1].part", "second time",
         NULL},
        {"{\"part\":\"mem-b\"}", "{\"part\":\"own\",\"facts\":{}}", "$.machine.memory[0]",
         "no \"name\"", NULL},
        {"{\"part\":\"mem-b\"}", "{\"part\":\"own\",\"name\":\"n\"}", "$.machine.memory[0]",
         "no \"facts\"", NULL},
        {"{\"part\":\"mem-b\"}", "{\"part\":\"Own\",\"name\":\"n\",\"facts\":{}}",
         "$.machine.memory[0].part", "no id", NULL},
        {"\"board\":[{\"part\":\"board-a\",\"facts\":{\"speed_mt_s\":2666}}]", "\"board\":[]",
         "$.machine.board", "holds 0 pieces", NULL},
        {"\"board\":[{\"part\":\"board-a\",\"facts\":{\"speed_mt_s\":2666}}],", "", "$.machine",
         "holds 0 pieces of the role \"board\"", NULL},
        {"{\"part\":\"mem-b\"}", "{\"part\":\"mem-b\",\"count\":0}", "$.machine.memory[0].count",
         "out of range", NULL},
        {"\"condition\":\"worn\"", "\"condition\":\"fine\"", "$.machine.memory[1].condition",
         "fine", NULL},
        {"\"offer\":\"5.00\"", "\"offer\":\"five\"", "$.machine.memory[1].offer", "no amount",
         NULL},
        {"{\"speed_mt_s\":2666}", "{\"speed_mts\":2666}", "$.machine.board[0].facts.speed_mts",
         "not known", "speed_mt_s"},
        {"{\"speed_mt_s\":2666}", "{\"speed_mt_s\":26}", "$.machine.board[0].facts.speed_mt_s",
         "26", NULL},
        /* given parts */
        {"{\"part\":\"fan-a\"}", "{\"part\":\"fan-b\"}", "$.given[1].part", "not known", "fan-a"},
        {"{\"part\":\"fan-a\"}", "{\"part\":\"fan-a\",\"role\":\"fans\"}", "$.given[1].role",
         "beside a part of the catalog", NULL},
        {"{\"part\":\"fan-a\"}", "{\"part\":\"fan-a\"},{\"part\":\"fan-a\"}", "$.given[2].part",
         "second time", NULL},
        {"\"role\":\"fans\",\"name\":\"a gift\"", "\"name\":\"a gift\"", "$.given[0]",
         "no \"role\"", NULL},
        {"\"must-use\",", "\"must-us\",", "$.given[0].strings[0]", "must-us", "must-use"},
        {"\"must-use\",", "\"no-resale\",", "$.given[0].strings[1]", "twice", NULL},
        {"\"part\":\"gift\"", "\"part\":\"old-box\"", "$.given[0].part", "second time", NULL},
        /* musts and wishes */
        {"[\"profile-off\"]", "[\"profile-on\"]", "$.observed[0]", "not known", "profile-off"},
        {"\"replace\":\"mem-a\",\"why\"", "\"replace\":\"fan-a\",\"why\"", "$.musts[0].replace",
         "\"fan-a\", which is not known", NULL},
        {"\"replace\":\"mem-a\",\"why\"", "\"why\"", "$.musts[0]", "neither", NULL},
        {"\"replace\":\"mem-a\",\"why\"", "\"replace\":\"mem-a\",\"do\":\"clean\",\"why\"",
         "$.musts[0]", "both", NULL},
        {"\"do\":\"profile\"", "\"do\":\"profle\"", "$.musts[1].do", "not known", "profile"},
        {"\"keep\":[\"case\"],\"replace\":[\"mem-a\"]", "\"keep\":[\"memory\"]", "$.musts[0]",
         "\"mem-a\", which the wishes keep", NULL},
        {"\"keep\":[\"case\"],\"replace\":[\"mem-a\"]",
         "\"keep\":[\"board-a\"],\"replace\":[\"board\"]", "$.wishes.keep", "sends away", NULL},
        {"\"keep\":[\"case\"],\"replace\":[\"mem-a\"]",
         "\"keep\":[\"case\"],\"replace\":[\"case\"]", "$.wishes.keep", "role \"case\"", NULL},
        {"\"keep\":[\"case\"]", "\"keep\":[\"cases\"]", "$.wishes.keep[0]",
         "no role and no present part", "case"},
        {"\"Owl Yard\"", "\"Owl Yad\"", "$.wishes.avoid[0]", "no part and no maker", "Owl Yard"},
        {"\"Owl Yard\"", "\"\"", "$.wishes.avoid[0]", "no part and no maker", NULL},
        {"\"swings\":{\"speed\":100,\"quiet\":60,\"looks\":40}", "\"swings\":{\"speed\":0}",
         "$.wishes.swings", "no swing above 0", NULL},
        {"\"swings\":{\"speed\":100", "\"swings\":{\"sped\":100", "$.wishes.swings.sped",
         "not known", "speed"},
        {"\"swings\":{\"speed\":100", "\"swings\":{\"speed\":-1", "$.wishes.swings.speed", "-1",
         NULL},
        {"\"swings\":{", "\"ranks\":[\"speed\"],\"swings\":{", "$.wishes", "both", NULL},
        {"\"swings\":{\"speed\":100,\"quiet\":60,\"looks\":40},", "", "$.wishes", "neither", NULL},
        {"\"swings\":{\"speed\":100,\"quiet\":60,\"looks\":40}",
         "\"ranks\":[\"speed\",\"quiet\",\"speed\"]", "$.wishes.ranks[0]", "further down", NULL},
        {"\"use\":\"photos\"", "\"use\":\"photo\"", "$.wishes.uses[0].use", "not known", "photos"},
        {"\"share\":60", "\"share\":0", "$.wishes.uses[0].share", "0", NULL},
        {"\"rate_now\":48,", "", "$.wishes.uses[0]", "without \"rate_now\"", NULL},
        {"\"rate_now\":48", "\"rate_now\":0", "$.wishes.uses[0].rate_now", "0", NULL},
        {"{\"use\":\"photos\",\"share\":60,\"rate_now\":48,\"rate_wanted\":90}", "", "$.wishes",
         "names no use", NULL},
        {"\"share\":60,\"rate_now\":48,\"rate_wanted\":90}",
         "\"share\":60},{\"use\":\"photos\",\"share\":1}", "$.wishes.uses[1].use", "second time",
         NULL},
        {"{\"finish\":[\"black\"]}", "{\"finish\":[\"blue\"]}", "$.wishes.taste.finish[0]",
         "does not list", NULL},
        {"{\"finish\":[\"black\"]}", "{\"size_gb\":[\"black\"]}", "$.wishes.taste.size_gb",
         "which is none", NULL},
        {"\"days\":6", "\"days\":6.5", "$.wishes.limits.days", "not a whole number", NULL},
        {"\"loudness_sone\":2.5", "\"loudness\":2.5", "$.wishes.limits.loudness", "unknown name",
         NULL},
        /* money and room */
        {"\"level_dba\":30", "\"level_dba\":300", "$.room.level_dba", "300", NULL},
        {"\"total\":\"650.00\",", "", "$.budget", "no \"total\"", NULL},
        {"\"total\":\"650.00\"", "\"total\":650", "$.budget.total", "a number, not a text",
         "double quotes"},
        {"\"percent\":8.25", "\"percent\":100.5", "$.tax.percent", "100.5", NULL},
        {"\"half-even\"", "\"even\"", "$.tax.round", "even", NULL},
        {"\"allow_unknown\":true", "\"allow_unknown\":\"yes\"", "$.allow_unknown",
         "not true or false", NULL},
        {"\"rate_per_hour\":\"36.00\"", "\"rate_per_hour\":\"36.001\"", "$.labour.rate_per_hour",
         "no amount", NULL},
    };
    expect_each("jobs/job.json", rows, COUNT(rows));
}

/* ---- several at once ---------------------------------------------------------------------- */

Test(gathered, one_bad_entry_hides_no_other) {
    shelf is = shelf_make("catalog/parts/all.json", "\"size_gb\":16,\"speed_mt_s\":2400",
                          "\"size_gb\":\"x\",\"speed_mt_s\":1");
    shelf_write(&is, "catalog/observations.json", "{\"schema\":1,", 12);
    shelf_read(&is);
    static const char *const places[] = {"line 1", "$.parts[0].facts.size_gb",
                                         "$.parts[0].facts.speed_mt_s"};
    cr_expect_eq(is.status, SW_BAD_DATA);
    cr_assert_eq(sw_complaints_count(is.complaints), COUNT(places), "%s", shelf_said(&is));
    for (size_t i = 0; i < COUNT(places); i++)
        cr_expect_str_eq(sw_complaints_get(is.complaints, i)->place, places[i]);
    shelf_free(&is);
}

/* A broken file is said once; what names its contents is not complained of. */
Test(gathered, a_broken_file_makes_no_cascade) {
    for (size_t i = 0; i < COUNT(shelf_files); i++) {
        shelf is = shelf_make(NULL, NULL, NULL);
        shelf_write(&is, shelf_files[i].name, "\"", 1);
        shelf_read(&is);
        cr_expect_eq(is.status, SW_BAD_DATA, "%s", shelf_files[i].name);
        cr_expect_eq(sw_complaints_count(is.complaints), 1, "%s: %zu", shelf_files[i].name,
                     sw_complaints_count(is.complaints));
        shelf_free(&is);
    }
}

Test(gathered, a_missing_file_makes_no_cascade) {
    for (size_t i = 0; i < COUNT(shelf_files); i++) {
        shelf is = shelf_make(NULL, NULL, NULL);
        char path[160];
        if (strcmp(shelf_files[i].name, "catalog/parts/all.json") == 0) {
            shelf_free(&is);
            continue;
        }
        snprintf(path, sizeof path, "%s/%s", is.folder, shelf_files[i].name);
        cr_assert_eq(remove(path), 0);
        shelf_read(&is);
        cr_expect_eq(is.status, SW_CANNOT_READ, "%s", shelf_files[i].name);
        cr_expect_eq(sw_complaints_count(is.complaints), 1, "%s: %zu", shelf_files[i].name,
                     sw_complaints_count(is.complaints));
        shelf_free(&is);
    }
}

Test(gathered, no_catalog) {
    shelf is = shelf_make("jobs/job.json", "\"../catalog\"", "\"../katalog\"");
    shelf_read(&is);
    cr_expect_eq(is.status, SW_CANNOT_READ);
    cr_expect_eq(sw_complaints_count(is.complaints), 1);
    cr_expect_not_null(strstr(shelf_said(&is), "no folder"));
    shelf_free(&is);
    is = shelf_make("jobs/job.json", "\"catalog\":\"../catalog\",", "");
    shelf_read(&is);
    cr_expect_eq(is.status, SW_BAD_DATA);
    cr_expect_eq(sw_complaints_count(is.complaints), 1);
    cr_expect_not_null(strstr(shelf_said(&is), "no \"catalog\""));
    shelf_free(&is);
}

Test(gathered, the_catalog_alone) {
    shelf is = shelf_make("catalog/roles.json", "\"most\":4", "\"most\":40");
    cr_expect_eq(sw_catalog_check(is.catalog, is.complaints), SW_BAD_DATA);
    cr_expect_eq(sw_complaints_count(is.complaints), 1);
    cr_expect_eq(sw_catalog_check(is.catalog, NULL), SW_BAD_DATA, "complaints may be left out");
    shelf_free(&is);
    is = shelf_make(NULL, NULL, NULL);
    cr_expect_eq(sw_catalog_check(is.catalog, is.complaints), SW_OK, "%s", shelf_said(&is));
    shelf_free(&is);
}

Test(gathered, ids_are_one_across_files) {
    shelf is = shelf_make(NULL, NULL, NULL);
    static const char more[] = "{\"schema\":1,\"parts\":[{\"id\":\"mem-a\",\"role\":\"memory\","
                               "\"name\":\"n\",\"facts\":{}}]}";
    shelf_write(&is, "catalog/parts/more.json", more, sizeof more - 1);
    shelf_read(&is);
    cr_assert_eq(sw_complaints_count(is.complaints), 1);
    const sw_complaint *first = sw_complaints_get(is.complaints, 0);
    cr_expect_not_null(strstr(first->file, "more.json"));
    cr_expect_str_eq(first->place, "$.parts[0].id");
    shelf_free(&is);
}

/* Shown text cannot steer a terminal, nor flood it. */
Test(gathered, shown_text_is_harmless) {
    shelf is =
        shelf_make("jobs/job.json", "\"title\":\"t\"", "\"\\u001b[2J\\u009b\":1,\"title\":\"t\"");
    shelf_read(&is);
    const sw_complaint *first = sw_complaints_get(is.complaints, 0);
    cr_assert_not_null(first);
    cr_expect_str_eq(first->place, "$[\"?[2J?\"]");
    cr_expect_null(strchr(first->what, 0x1b));
    shelf_free(&is);
}

/* Every file cut short at many places, and with bytes put in: a status and
 * complaints, never a crash. */
Test(gathered, survives_mutation) {
    static const char *const bytes[] = {"\"", "{", "[", "null,", "-", "\\", "1"};
    shelf is = shelf_make(NULL, NULL, NULL);
    for (size_t i = 0; i < COUNT(shelf_files); i++) {
        const char *text = shelf_files[i].text;
        size_t length = strlen(text);
        for (size_t at = i; at < length; at += 37) {
            const char *put = bytes[(at / 37) % COUNT(bytes)];
            sw_text changed = {0};
            sw_text_add_bytes(&changed, text, at);
            sw_text_add(&changed, put);
            sw_text_add(&changed, text + at);
            shelf_write(&is, shelf_files[i].name, changed.bytes, changed.length);
            sw_text_free(&changed);
            sw_complaints *complaints = sw_complaints_new();
            sw_scenario *scenario = NULL;
            sw_status status = sw_scenario_read(&scenario, is.job, NULL, complaints);
            cr_expect_eq(status == SW_OK, sw_complaints_count(complaints) == 0, "%s at %zu",
                         shelf_files[i].name, at);
            sw_scenario_free(scenario);
            sw_complaints_free(complaints);
        }
        shelf_write(&is, shelf_files[i].name, text, length);
    }
    shelf_free(&is);
}
