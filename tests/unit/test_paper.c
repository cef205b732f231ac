/* complaints.json, hazards.json, proposal.json and what a scenario says of them: taken as
 * catalog/FORMATS.md, sections 22 to 24, says; and one changed place is one complaint. */
#include <criterion/criterion.h>

#include "refused.h"

static const shelf_file papers[] = {
    {"catalog/complaints.json",
     "{\"schema\":1,\"complaints\":["
     "{\"complaint\":\"loud\",\"name\":\"L\",\"ends\":[{\"loudness\":0.7}],\"goal\":\"g\","
     "\"source\":\"s\"},"
     "{\"complaint\":\"slow\",\"name\":\"S\",\"ends\":[{\"rate\":1.5},{\"looks\":0.25},"
     "{\"must\":true}],\"goal\":\"g\",\"source\":\"s\"},"
     "{\"complaint\":\"full\",\"name\":\"F\",\"ends\":[{\"any\":["
     "{\"fact\":\"memory.size_gb\",\"times\":1.4},"
     "{\"fact\":\"memory.speed_mt_s\",\"of\":\"memory.rated_mt_s\",\"plus\":-100},"
     "{\"fact\":\"memory.size_gb\",\"least\":64},"
     "{\"not\":{\"changes\":\"board\"}}]}],\"goal\":\"g\",\"source\":\"s\"}]}"},
    {"catalog/hazards.json",
     "{\"schema\":1,\"hazards\":[{\"hazard\":\"mains\",\"any\":[{\"changes\":\"board\"},"
     "{\"task\":\"clean\"}],\"danger\":\"d\",\"habit\":\"h\",\"limit\":\"l\",\"source\":\"s\"},"
     "{\"hazard\":\"sharp\",\"any\":[{\"changes\":\"case\"}],\"danger\":\"d\",\"habit\":\"h\","
     "\"limit\":\"l\",\"source\":\"s\"}]}"},
    {"catalog/proposal.json",
     "{\"schema\":1,\"shop\":\"A bench\",\"valid_days\":21,\"bench_minutes_a_day\":300,"
     "\"test_days\":2,\"nest_share\":0.05,\"surprises\":["
     "{\"surprise\":\"ask\",\"name\":\"n\",\"free\":[],\"word\":[\"all\"]},"
     "{\"surprise\":\"like\",\"name\":\"n\",\"free\":[\"b\",\"a\"],\"word\":[\"c\"]}],"
     "\"asks\":[{\"ask\":\"used\",\"any\":[{\"warranty_most\":6},{\"return_most\":0},"
     "{\"given\":true},{\"changes\":\"case\"}],\"words\":\"w\"},"
     "{\"ask\":\"clock\",\"any\":[{\"task\":\"profile\"}],\"words\":\"w\"}],"
     "\"promises\":[\"p\",\"q\"],\"drawing\":["
     "{\"role\":\"case\",\"label\":\"c\",\"x\":250,\"y\":0,\"width\":750,\"height\":800},"
     "{\"role\":\"board\",\"label\":\"b\",\"x\":300,\"y\":90,\"width\":1,\"height\":9}]}"},
};

/* What the job says of them, in front of its room. */
static const char said[] = "\"complaints\":[{\"complaint\":\"slow\",\"use\":\"photos\","
                           "\"words\":\"I wait\"},{\"complaint\":\"loud\"}],"
                           "\"surprise\":\"like\",";

static shelf paper_shelf(const char *said_of_it) {
    sw_text room = {0};
    sw_text_addf(&room, "%s\"room\":", said_of_it);
    shelf is = shelf_make("jobs/job.json", "\"room\":", room.bytes);
    sw_text_free(&room);
    for (size_t i = 0; i < COUNT(papers); i++)
        shelf_write(&is, papers[i].name, papers[i].text, strlen(papers[i].text));
    return is;
}

static shelf good_paper(const char *said_of_it) {
    shelf is = paper_shelf(said_of_it);
    shelf_read(&is);
    cr_assert_eq(is.status, SW_OK, "%s", shelf_said(&is));
    cr_assert_eq(sw_complaints_count(is.complaints), 0);
    return is;
}

/* ---- what is taken ------------------------------------------------------------------------ */

Test(paper, complaints_and_their_ends) {
    shelf is = good_paper(said);
    const sw_catalog *catalog = is.scenario->catalog;
    cr_assert_eq(catalog->trouble_count, 3);
    const sw_trouble *loud = &catalog->troubles[0], *slow = &catalog->troubles[1];
    const sw_trouble *full = &catalog->troubles[2];
    cr_expect_str_eq(loud->id, "loud");
    cr_expect_str_eq(loud->name, "L");
    cr_assert_eq(loud->end_count, 1);
    cr_expect(loud->ends[0].how == SW_RELIEF_LOUDNESS && loud->ends[0].milli == 700);
    cr_assert_eq(slow->end_count, 3);
    cr_expect(slow->ends[0].how == SW_RELIEF_RATE && slow->ends[0].milli == 1500);
    cr_expect(slow->ends[1].how == SW_RELIEF_LOOKS && slow->ends[1].milli == 250);
    cr_expect_eq(slow->ends[2].how, SW_RELIEF_MUST);
    cr_assert(full->end_count == 1 && full->ends[0].how == SW_RELIEF_ANY);
    cr_assert_eq(full->ends[0].need_count, 4);
    const sw_relief_need *needs = full->ends[0].needs;
    const char *role = catalog->roles[needs[0].role].id;
    const sw_fact *facts = catalog->facts;
    cr_expect_str_eq(role, "memory");
    cr_expect(needs[0].by_today && needs[0].times_milli == 1400 && needs[0].plus_milli == 0);
    cr_expect_str_eq(facts[needs[0].fact].name, "size_gb");
    cr_expect_eq(needs[0].of, needs[0].fact, "of: the fact itself");
    cr_expect(needs[1].by_today && needs[1].times_milli == 1000 && needs[1].plus_milli == -100000);
    cr_expect_str_eq(facts[needs[1].fact].name, "speed_mt_s");
    cr_expect_str_eq(facts[needs[1].of].name, "rated_mt_s");
    cr_expect(!needs[2].by_today && needs[2].cond.op == SW_COND_LEAST &&
              needs[2].cond.milli == 64000 && needs[2].role == needs[0].role);
    cr_expect(!needs[3].by_today && needs[3].cond.op == SW_COND_CHANGES && needs[3].cond.negated);
    shelf_free(&is);
}

Test(paper, the_paper_and_its_hazards) {
    shelf is = good_paper(said);
    const sw_catalog *catalog = is.scenario->catalog;
    const sw_paper *paper = &catalog->paper;
    cr_expect_str_eq(paper->shop, "A bench");
    cr_expect(paper->valid_days == 21 && paper->test_days == 2 &&
              paper->bench_minutes_a_day == 300 && paper->nest_share_milli == 50);
    cr_assert(paper->surprise_count == 2 && paper->ask_count == 2 && paper->promise_count == 2);
    const sw_surprise *like = &paper->surprises[1];
    cr_assert(like->free_count == 2 && like->word_count == 1);
    cr_expect_str_eq(like->free_to[0], "b", "sentences keep their order");
    cr_expect_str_eq(like->free_to[1], "a");
    cr_expect_str_eq(like->word[0], "c");
    cr_expect_eq(paper->surprises[0].free_count, 0);
    const sw_ask *used = &paper->asks[0];
    cr_assert_eq(used->any_count, 4);
    cr_expect(used->any[0].how == SW_ASK_WARRANTY && used->any[0].most == 6);
    cr_expect(used->any[1].how == SW_ASK_RETURN && used->any[1].most == 0);
    cr_expect_eq(used->any[2].how, SW_ASK_GIVEN);
    cr_expect(used->any[3].how == SW_ASK_COND && used->any[3].cond.op == SW_COND_CHANGES);
    cr_expect_str_eq(paper->promises[1], "q");
    cr_assert_eq(paper->drawn_count, 2);
    const sw_drawn *board = &paper->drawing[1];
    cr_expect_str_eq(catalog->roles[board->role].id, "board");
    cr_expect_str_eq(board->label, "b");
    cr_expect(board->x == 300 && board->y == 90 && board->width == 1 && board->height == 9);
    cr_assert_eq(catalog->hazard_count, 2);
    cr_expect_str_eq(catalog->hazards[0].id, "mains");
    cr_expect_str_eq(catalog->hazards[0].limit, "l");
    cr_assert_eq(catalog->hazards[0].any_count, 2);
    cr_expect_eq(catalog->hazards[0].any[1].op, SW_COND_TASK);
    shelf_free(&is);
}

Test(paper, what_the_client_states) {
    shelf is = good_paper(said);
    const sw_scenario *made = is.scenario;
    cr_assert_eq(made->trouble_count, 2);
    cr_expect(made->troubles[0].trouble == 1 && made->troubles[0].use == 0);
    cr_expect_str_eq(made->troubles[0].words, "I wait");
    cr_expect(made->troubles[1].trouble == 0 && made->troubles[1].use == SW_NONE);
    cr_expect_str_eq(made->troubles[1].words, "");
    cr_expect_eq(made->surprise, 1);
    shelf_free(&is);
}

/* Section 22: the use with the largest share, the first of equals; section 24: the first. */
Test(paper, what_stands_where_the_client_names_none) {
    static const struct {
        const char *uses;
        int use;
    } rows[] = {
        {"{\"use\":\"photos\",\"share\":60},{\"use\":\"chat\",\"share\":61}", 1},
        {"{\"use\":\"photos\",\"share\":60},{\"use\":\"chat\",\"share\":60}", 0},
    };
    /* The shelf's other use has a stage that nothing could serve. */
    static const char *const uses =
        "{\"schema\":1,\"uses\":[{\"id\":\"photos\",\"name\":\"n\",\"unit\":\"u\",\"stages\":[{"
        "\"stage\":\"a\",\"name\":\"n\",\"rate\":\"memory.size_gb\"}]},{\"id\":\"chat\","
        "\"name\":\"n\",\"unit\":\"u\",\"stages\":[{\"stage\":\"a\",\"name\":\"n\","
        "\"rate\":\"memory.size_gb\"}]}]}";
    for (size_t i = 0; i < COUNT(rows); i++) {
        sw_text list = {0};
        sw_text_addf(&list, "\"uses\":[%s],\"taste\"", rows[i].uses);
        shelf is = shelf_make("jobs/job.json",
                              "\"uses\":[{\"use\":\"photos\",\"share\":60,\"rate_now\":48,"
                              "\"rate_wanted\":90}],\"taste\"",
                              list.bytes);
        sw_text_free(&list);
        for (size_t p = 0; p < COUNT(papers); p++)
            shelf_write(&is, papers[p].name, papers[p].text, strlen(papers[p].text));
        shelf_write(&is, "catalog/uses.json", uses, strlen(uses));
        shelf_read(&is);
        cr_assert_eq(is.status, SW_OK, "%s", shelf_said(&is));
        cr_expect_eq(is.scenario->surprise, 0, "the first");
        cr_expect_eq(is.scenario->trouble_count, 0);
        static const sw_change change = {.path = "complaints.slow.words", .value = "hm"};
        sw_scenario *changed = NULL;
        sw_status status = sw_scenario_change(&changed, is.scenario, &change, 1, is.complaints);
        cr_assert_eq(status, SW_OK, "%s", shelf_said(&is));
        cr_assert_eq(changed->trouble_count, 1);
        cr_expect_eq(changed->troubles[0].use, rows[i].use, "row %zu", i);
        sw_scenario_free(changed);
        shelf_free(&is);
    }
}

Test(paper, all_three_files_may_be_missing) {
    shelf is = shelf_make(NULL, NULL, NULL);
    shelf_read(&is);
    cr_assert_eq(is.status, SW_OK, "%s", shelf_said(&is));
    const sw_catalog *catalog = is.scenario->catalog;
    const sw_paper *paper = &catalog->paper;
    cr_expect(catalog->trouble_count == 0 && catalog->hazard_count == 0);
    cr_expect_str_eq(paper->shop, "");
    cr_expect(paper->valid_days == 14 && paper->bench_minutes_a_day == 240 &&
              paper->test_days == 1 && paper->nest_share_milli == 20);
    cr_expect(paper->surprise_count == 0 && paper->ask_count == 0 && paper->promise_count == 0 &&
              paper->drawn_count == 0);
    cr_expect_eq(is.scenario->surprise, SW_NONE);
    shelf_free(&is);
}

Test(paper, all_but_the_shop_has_a_default) {
    static const char shop[] = "{\"schema\":1,\"shop\":\"B\"}";
    shelf is = paper_shelf("");
    shelf_write(&is, "catalog/proposal.json", shop, sizeof shop - 1);
    shelf_read(&is);
    cr_assert_eq(is.status, SW_OK, "%s", shelf_said(&is));
    const sw_paper *paper = &is.scenario->catalog->paper;
    cr_expect_str_eq(paper->shop, "B");
    cr_expect(paper->valid_days == 14 && paper->bench_minutes_a_day == 240 &&
              paper->test_days == 1 && paper->nest_share_milli == 20);
    cr_expect_eq(is.scenario->surprise, SW_NONE);
    shelf_free(&is);
}

Test(paper, a_task_may_be_luck) {
    shelf is = shelf_make("catalog/tasks.json", "\"family\":\"profile\"",
                          "\"family\":\"profile\",\"chance\":true");
    shelf_read(&is);
    cr_assert_eq(is.status, SW_OK, "%s", shelf_said(&is));
    const sw_catalog *catalog = is.scenario->catalog;
    cr_assert_eq(catalog->task_count, 2);
    cr_expect_not(catalog->tasks[0].chance, "clean");
    cr_expect(catalog->tasks[1].chance, "profile");
    shelf_free(&is);
}

/* Elements go by their complaint, though they have a use. */
Test(paper, whatif_finds_a_complaint_by_its_name) {
    shelf is = good_paper(said);
    static const sw_change changes[] = {
        {.path = "complaints.slow.words", .value = "still"},
        {.path = "complaints.loud", .value = "null"},
        {.path = "complaints.full.words", .value = "new"},
        {.path = "surprise", .value = "ask"},
    };
    sw_scenario *changed = NULL;
    sw_status status =
        sw_scenario_change(&changed, is.scenario, changes, COUNT(changes), is.complaints);
    cr_assert_eq(status, SW_OK, "%s", shelf_said(&is));
    cr_assert_eq(changed->trouble_count, 2);
    cr_expect_eq(changed->troubles[0].trouble, 1);
    cr_expect_str_eq(changed->troubles[0].words, "still");
    cr_expect_eq(changed->troubles[1].trouble, 2);
    cr_expect_str_eq(changed->troubles[1].words, "new");
    cr_expect_eq(changed->surprise, 0);
    sw_scenario_free(changed);
    static const sw_change wrong = {.path = "complaints.slow.use", .value = "photo"};
    status = sw_scenario_change(&changed, is.scenario, &wrong, 1, is.complaints);
    cr_expect_eq(status, SW_BAD_DATA);
    cr_assert_eq(sw_complaints_count(is.complaints), 1);
    cr_expect_str_eq(sw_complaints_get(is.complaints, 0)->place, "$.complaints[0].use");
    cr_expect_not_null(strstr(sw_complaints_get(is.complaints, 0)->mend, "photos"));
    shelf_free(&is);
}

/* ---- what is refused ---------------------------------------------------------------------- */

/* Each row by itself, in one of the files above. */
static void expect_of_paper(const char *file, const row *rows, size_t count) {
    for (size_t i = 0; i < count; i++) {
        shelf is = paper_shelf("");
        for (size_t p = 0; p < COUNT(papers); p++)
            if (strcmp(papers[p].name, file) == 0) {
                char *changed = shelf_changed(papers[p].text, rows[i].from, rows[i].to);
                cr_assert_not_null(changed, "%s holds %s", file, rows[i].from);
                shelf_write(&is, file, changed, strlen(changed));
                free(changed);
            }
        expect_refused(&is, file, &rows[i]);
    }
}

Test(refused_paper, complaints) {
    static const row rows[] = {
        {"\"schema\":1", "\"schema\":2", "$.schema", "not 1", NULL},
        {"\"complaints\":[", "\"complaint\":[],\"complaints\":[", "$.complaint", "unknown name",
         "\"complaints\""},
        {"\"complaint\":\"slow\"", "\"complaint\":\"Slow\"", "$.complaints[1].complaint", "no id",
         NULL},
        {"\"complaint\":\"slow\"", "\"complaint\":\"loud\"", "$.complaints[1].complaint",
         "second time", NULL},
        {"\"complaint\":\"slow\",", "", "$.complaints[1]", "no \"complaint\"", NULL},
        {"\"name\":\"L\",", "", "$.complaints[0]", "no \"name\"", NULL},
        {"\"goal\":\"g\",", "", "$.complaints[0]", "no \"goal\"", NULL},
        {",\"source\":\"s\"", "", "$.complaints[0]", "no \"source\"", NULL},
        {"\"ends\":[{\"loudness\":0.7}],", "", "$.complaints[0]", "no \"ends\"", NULL},
        {"\"ends\":[{\"loudness\":0.7}]", "\"ends\":[]", "$.complaints[0].ends", "0 entries", NULL},
        {"\"ends\":[{\"loudness\":0.7}]", "\"end\":[],\"ends\":[{\"loudness\":0.7}]",
         "$.complaints[0].end", "unknown name", "\"ends\""},
        {"{\"loudness\":0.7}", "{}", "$.complaints[0].ends[0]", "no way to end it", NULL},
        {"{\"loudness\":0.7}", "{\"loudnes\":0.7}", "$.complaints[0].ends[0]", "no way to end it",
         "\"loudness\""},
        {"{\"loudness\":0.7}", "[0.7]", "$.complaints[0].ends[0]", "a list, not an object", NULL},
        {"{\"loudness\":0.7}", "{\"loudness\":0.7,\"must\":true}", "$.complaints[0].ends[0]",
         "two ways", "two entries"},
        {"{\"loudness\":0.7}", "{\"loudness\":0.7,\"use\":1}", "$.complaints[0].ends[0].use",
         "unknown name", NULL},
        {"\"loudness\":0.7", "\"loudness\":0", "$.complaints[0].ends[0].loudness", "is 0", NULL},
        {"\"loudness\":0.7", "\"loudness\":1.001", "$.complaints[0].ends[0].loudness", "1.001",
         NULL},
        {"\"loudness\":0.7", "\"loudness\":\"0.7\"", "$.complaints[0].ends[0].loudness",
         "not a number", NULL},
        {"\"rate\":1.5", "\"rate\":1", "$.complaints[1].ends[0].rate", "is 1", NULL},
        {"\"rate\":1.5", "\"rate\":100.001", "$.complaints[1].ends[0].rate", "100.001", NULL},
        {"\"looks\":0.25", "\"looks\":1.5", "$.complaints[1].ends[1].looks", "1.5", NULL},
        {"\"must\":true", "\"must\":false", "$.complaints[1].ends[2].must", "false", NULL},
        {"\"must\":true", "\"must\":1", "$.complaints[1].ends[2].must", "not true or false", NULL},
        {"\"must\":true", "\"any\":[]", "$.complaints[1].ends[2].any", "0 entries", NULL},
        /* needs */
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.size_gb\"", "$.complaints[2].ends[0].any[0]",
         "with nothing", NULL},
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.size_gb\",\"time\":1.4",
         "$.complaints[2].ends[0].any[0].time", "unknown name", "\"times\""},
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.size_gb\",\"times\":1.4,\"leest\":1",
         "$.complaints[2].ends[0].any[0].leest", "unknown name", NULL},
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.size_gb\",\"times\":1.4,\"most\":9",
         "$.complaints[2].ends[0].any[0]", "in two ways", NULL},
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.size_gb\",\"times\":-1",
         "$.complaints[2].ends[0].any[0].times", "-1", NULL},
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.size_gb\",\"times\":1000.5",
         "$.complaints[2].ends[0].any[0].times", "1000.5", NULL},
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.slot\",\"times\":1.4",
         "$.complaints[2].ends[0].any[0].fact", "token fact", NULL},
        {"\"memory.size_gb\",\"times\":1.4", "\"*.size_gb\",\"times\":1.4",
         "$.complaints[2].ends[0].any[0].fact", "every role", NULL},
        {"\"memory.size_gb\",\"times\":1.4", "\"memory.sise_gb\",\"times\":1.4",
         "$.complaints[2].ends[0].any[0].fact", "not known", "size_gb"},
        {"{\"fact\":\"memory.size_gb\",\"times\":1.4}", "{\"times\":1.4}",
         "$.complaints[2].ends[0].any[0]", "no \"fact\"", NULL},
        {"\"of\":\"memory.rated_mt_s\"", "\"of\":\"board.speed_mt_s\"",
         "$.complaints[2].ends[0].any[1].of", "of the role \"board\"", NULL},
        {"\"of\":\"memory.rated_mt_s\"", "\"of\":\"memory.slot\"",
         "$.complaints[2].ends[0].any[1].of", "token fact", NULL},
        {"\"plus\":-100", "\"plus\":-1000001", "$.complaints[2].ends[0].any[1].plus", "too large",
         NULL},
        {"{\"changes\":\"board\"}", "{\"changes\":\"bord\"}",
         "$.complaints[2].ends[0].any[3].not.changes", "not known", "board"},
        {"{\"changes\":\"board\"}", "{\"observed\":\"dusty\"}", "$.complaints[2].ends[0].any[3]",
         "an observation", NULL},
        {"{\"changes\":\"board\"}", "{\"fact\":\"memory.size_gb\",\"times\":2}",
         "$.complaints[2].ends[0].any[3].not.times", "unknown name", NULL},
    };
    expect_of_paper("catalog/complaints.json", rows, COUNT(rows));
}

Test(refused_paper, hazards) {
    static const row rows[] = {
        {"\"hazard\":\"sharp\"", "\"hazard\":\"mains\"", "$.hazards[1].hazard", "second time",
         NULL},
        {"\"hazard\":\"sharp\",", "", "$.hazards[1]", "no \"hazard\"", NULL},
        {"\"any\":[{\"changes\":\"case\"}]", "\"any\":[]", "$.hazards[1].any", "0 entries", NULL},
        {"{\"changes\":\"case\"}", "{\"changes\":\"cas\"}", "$.hazards[1].any[0].changes",
         "not known", "case"},
        {"\"danger\":\"d\",", "", "$.hazards[0]", "no \"danger\"", NULL},
        {"\"habit\":\"h\"", "\"habits\":\"h\",\"habit\":\"h\"", "$.hazards[0].habits",
         "unknown name", "\"habit\""},
        {"\"limit\":\"l\"", "\"limit\":\"\"", "$.hazards[0].limit", "empty", NULL},
        {",\"source\":\"s\"", "", "$.hazards[0]", "no \"source\"", NULL},
    };
    expect_of_paper("catalog/hazards.json", rows, COUNT(rows));
}

Test(refused_paper, proposal) {
    static const row rows[] = {
        {"\"shop\":\"A bench\",", "", "$", "no \"shop\"", NULL},
        {"\"valid_days\":21", "\"valid_day\":21", "$.valid_day", "unknown name", "\"valid_days\""},
        {"\"valid_days\":21", "\"valid_days\":0", "$.valid_days", "out of range", NULL},
        {"\"valid_days\":21", "\"valid_days\":1001", "$.valid_days", "out of range", NULL},
        {"\"bench_minutes_a_day\":300", "\"bench_minutes_a_day\":0", "$.bench_minutes_a_day",
         "out of range", NULL},
        {"\"bench_minutes_a_day\":300", "\"bench_minutes_a_day\":1441", "$.bench_minutes_a_day",
         "out of range", NULL},
        {"\"test_days\":2", "\"test_days\":-1", "$.test_days", "out of range", NULL},
        {"\"nest_share\":0.05", "\"nest_share\":1.5", "$.nest_share", "1.5", NULL},
        {"\"surprise\":\"like\"", "\"surprise\":\"ask\"", "$.surprises[1].surprise", "second time",
         NULL},
        {"\"free\":[\"b\",\"a\"]", "\"free\":[\"b\",5]", "$.surprises[1].free[1]",
         "a number, not a text", NULL},
        {"\"free\":[\"b\",\"a\"]", "\"free\":[\"b\",\"\"]", "$.surprises[1].free[1]", "empty",
         NULL},
        {"\"free\":[\"b\",\"a\"]", "\"free\":\"b\"", "$.surprises[1].free", "a text, not a list",
         NULL},
        {",\"word\":[\"c\"]", "", "$.surprises[1]", "no \"word\"", NULL},
        {"\"ask\":\"clock\"", "\"ask\":\"used\"", "$.asks[1].ask", "second time", NULL},
        {"\"any\":[{\"task\":\"profile\"}]", "\"any\":[]", "$.asks[1].any", "0 entries", NULL},
        {"\"words\":\"w\"", "\"word\":\"w\",\"words\":\"w\"", "$.asks[0].word", "unknown name",
         "\"words\""},
        {"{\"warranty_most\":6}", "{\"waranty_most\":6}", "$.asks[0].any[0]", "no condition",
         "\"warranty_most\""},
        {"{\"warranty_most\":6}", "{}", "$.asks[0].any[0]", "no condition", NULL},
        {"{\"warranty_most\":6}", "6", "$.asks[0].any[0]", "a number, not an object", NULL},
        {"{\"warranty_most\":6}", "{\"warranty_most\":6,\"return_most\":7}", "$.asks[0].any[0]",
         "two conditions", "two entries"},
        {"{\"warranty_most\":6}", "{\"warranty_most\":6,\"changes\":\"case\"}", "$.asks[0].any[0]",
         "two conditions", NULL},
        {"{\"warranty_most\":6}", "{\"warranty_most\":6,\"least\":1}", "$.asks[0].any[0].least",
         "unknown name", NULL},
        {"{\"warranty_most\":6}", "{\"warranty_most\":6.5}", "$.asks[0].any[0].warranty_most",
         "not a whole number", NULL},
        {"{\"return_most\":0}", "{\"return_most\":-1}", "$.asks[0].any[1].return_most",
         "out of range", NULL},
        {"{\"given\":true}", "{\"given\":false}", "$.asks[0].any[2].given", "false", NULL},
        {"{\"given\":true}", "{\"given\":\"yes\"}", "$.asks[0].any[2].given", "not true or false",
         NULL},
        {"{\"task\":\"profile\"}", "{\"task\":\"profil\"}", "$.asks[1].any[0].task", "not known",
         "profile"},
        {"[\"p\",\"q\"]", "[\"p\",[]]", "$.promises[1]", "a list, not a text", NULL},
        {"\"role\":\"board\"", "\"role\":\"bord\"", "$.drawing[1].role", "not known", "board"},
        {"\"role\":\"board\"", "\"role\":\"case\"", "$.drawing[1].role", "already", NULL},
        {"\"label\":\"b\"", "\"lable\":\"b\",\"label\":\"b\"", "$.drawing[1].lable", "unknown name",
         "\"label\""},
        {"\"x\":250", "\"x\":251", "$.drawing[0]", "over the edge", NULL},
        {"\"y\":0", "\"y\":1", "$.drawing[0]", "over the edge", NULL},
        {"\"x\":250", "\"x\":-1", "$.drawing[0].x", "out of range", NULL},
        {"\"width\":1,", "\"width\":0,", "$.drawing[1].width", "out of range", NULL},
        {",\"height\":9", "", "$.drawing[1]", "no \"height\"", NULL},
    };
    expect_of_paper("catalog/proposal.json", rows, COUNT(rows));
}

Test(refused_paper, tasks) {
    static const row rows[] = {
        {"\"family\":\"profile\"", "\"family\":\"profile\",\"chance\":\"yes\"", "$.tasks[0].chance",
         "not true or false", NULL},
        {"\"family\":\"profile\"", "\"family\":\"profile\",\"chanse\":true", "$.tasks[0].chanse",
         "unknown name", "\"chance\""},
    };
    expect_each("catalog/tasks.json", rows, COUNT(rows));
}

Test(refused_paper, scenario) {
    static const row rows[] = {
        {"\"complaints\":[", "\"complaint\":[],\"complaints\":[", "$.complaint", "unknown name",
         "\"complaints\""},
        {"\"complaint\":\"loud\"", "\"complaint\":\"lod\"", "$.complaints[1].complaint",
         "not known", "\"loud\""},
        {"\"complaint\":\"loud\"", "\"complaint\":\"slow\"", "$.complaints[1].complaint",
         "second time", NULL},
        {"{\"complaint\":\"loud\"}", "{}", "$.complaints[1]", "no \"complaint\"", NULL},
        {"{\"complaint\":\"loud\"}", "\"loud\"", "$.complaints[1]", "a text, not an object", NULL},
        {"\"complaint\":\"loud\"", "\"complaint\":\"loud\",\"use\":\"photos\"",
         "$.complaints[1].use", "no use ends", "take it away"},
        {"\"use\":\"photos\"", "\"use\":\"photo\"", "$.complaints[0].use", "not known",
         "\"photos\""},
        {"\"use\":\"photos\"", "\"use\":\"talk\"", "$.complaints[0].use", "not known",
         "the scenario lists"}, /* a use of the catalog, but not this client's */
        {"\"words\":\"I wait\"", "\"words\":\"\"", "$.complaints[0].words", "empty", NULL},
        {"\"words\":\"I wait\"", "\"word\":\"I wait\"", "$.complaints[0].word", "unknown name",
         "\"words\""},
        {"\"surprise\":\"like\"", "\"surprise\":\"lik\"", "$.surprise", "not known", "\"like\""},
        {"\"surprise\":\"like\"", "\"surprise\":2", "$.surprise", "a number, not a text", NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char *changed = shelf_changed(said, rows[i].from, rows[i].to);
        cr_assert_not_null(changed, "%s", rows[i].from);
        shelf is = paper_shelf(changed);
        expect_refused(&is, "jobs/job.json", &rows[i]);
        free(changed);
    }
}

/* A rate is of a use, and this client names none. */
Test(refused_paper, no_use_for_a_rate) {
    static const char job[] =
        "{\"schema\":1,\"catalog\":\"../catalog\",\"currency\":\"EUR\",\"machine\":{\"memory\":["
        "{\"part\":\"mem-a\"}],\"board\":[{\"part\":\"board-a\"}],\"case\":[{\"part\":\"case-a\"}]"
        "},\"wishes\":{\"swings\":{\"quiet\":1}},\"budget\":{\"total\":\"1\"},"
        "\"complaints\":[{\"complaint\":\"slow\"}]}";
    row is = {"", "", "$.complaints[0]", "the client names none", "name a use"};
    shelf made = paper_shelf("");
    shelf_write(&made, "jobs/job.json", job, sizeof job - 1);
    expect_refused(&made, "jobs/job.json", &is);
}

/* Without the files nothing can be stated; and it is said once for each. */
Test(refused_paper, stated_but_no_file_lists_it) {
    static const char *const places[] = {"$.complaints[0].complaint", "$.complaints[1].complaint",
                                         "$.surprise"};
    shelf is = paper_shelf(said);
    for (size_t p = 0; p < COUNT(papers); p++) {
        char path[160];
        snprintf(path, sizeof path, "%s/%s", is.folder, papers[p].name);
        cr_assert_eq(remove(path), 0);
    }
    shelf_read(&is);
    cr_expect_eq(is.status, SW_BAD_DATA);
    cr_assert_eq(sw_complaints_count(is.complaints), COUNT(places), "%s", shelf_said(&is));
    for (size_t i = 0; i < COUNT(places); i++)
        cr_expect_str_eq(sw_complaints_get(is.complaints, i)->place, places[i]);
    shelf_free(&is);
}

/* A broken file is said once; what names its contents is not complained of. */
Test(refused_paper, a_broken_file_makes_no_cascade) {
    for (size_t p = 0; p < COUNT(papers); p++) {
        shelf is = paper_shelf(said);
        shelf_write(&is, papers[p].name, "\"", 1);
        shelf_read(&is);
        cr_expect_eq(is.status, SW_BAD_DATA, "%s", papers[p].name);
        cr_expect_eq(sw_complaints_count(is.complaints), 1, "%s: %zu", papers[p].name,
                     sw_complaints_count(is.complaints));
        shelf_free(&is);
    }
}

/* An end in doubt says nothing about which complaints have a use. */
Test(refused_paper, a_bad_end_makes_no_cascade) {
    shelf is = paper_shelf(said);
    char *changed = shelf_changed(papers[0].text, "{\"rate\":1.5}", "{\"rat\":1.5}");
    cr_assert_not_null(changed);
    shelf_write(&is, papers[0].name, changed, strlen(changed));
    row expected = {"rate", "rat", "$.complaints[1].ends[0]", "no way to end it", "\"rate\""};
    expect_refused(&is, papers[0].name, &expected);
    free(changed);
}

/* What no criterion measures would never be there. */
Test(refused_paper, ends_that_nothing_measures) {
    static const char speed[] = "{\"schema\":1,\"criteria\":[{\"id\":\"speed\",\"name\":\"n\","
                                "\"kind\":\"speed\"}]}";
    static const char *const places[] = {"$.complaints[0].ends[0].loudness",
                                         "$.complaints[1].ends[1].looks"};
    shelf is = paper_shelf("");
    shelf_write(&is, "catalog/criteria.json", speed, sizeof speed - 1);
    cr_expect_eq(sw_catalog_check(is.catalog, is.complaints), SW_BAD_DATA);
    cr_assert_eq(sw_complaints_count(is.complaints), COUNT(places), "%s", shelf_said(&is));
    for (size_t i = 0; i < COUNT(places); i++) {
        const sw_complaint *one = sw_complaints_get(is.complaints, i);
        cr_expect_str_eq(one->place, places[i]);
        cr_expect_not_null(strstr(one->what, "no criterion"));
    }
    shelf_free(&is);
}

/* Each file cut into at many places: a status and complaints, never a crash. */
Test(refused_paper, survives_mutation) {
    static const char *const bytes[] = {"\"", "{", "[", "null,", "-", "\\", "1"};
    shelf is = paper_shelf(said);
    for (size_t p = 0; p < COUNT(papers); p++) {
        const char *text = papers[p].text;
        size_t length = strlen(text);
        for (size_t at = p; at < length; at += 7) {
            sw_text changed = {0};
            sw_text_add_bytes(&changed, text, at);
            sw_text_add(&changed, bytes[(at / 7) % COUNT(bytes)]);
            sw_text_add(&changed, text + at);
            shelf_write(&is, papers[p].name, changed.bytes, changed.length);
            sw_text_free(&changed);
            sw_complaints *complaints = sw_complaints_new();
            sw_scenario *scenario = NULL;
            sw_status status = sw_scenario_read(&scenario, is.job, NULL, complaints);
            cr_expect_eq(status == SW_OK, sw_complaints_count(complaints) == 0, "%s at %zu",
                         papers[p].name, at);
            sw_scenario_free(scenario);
            sw_complaints_free(complaints);
        }
        shelf_write(&is, papers[p].name, text, length);
    }
    shelf_free(&is);
}
