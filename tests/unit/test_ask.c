/* The interview: complaints sorted into kinds, and shares as people write them. That these words
 * mean these complaints is plain English: common practice, no source. */
#include <criterion/criterion.h>
#include <string.h>

#include "intake/ask.h"

static sw_interview *begin(void) {
    sw_interview *interview = NULL;
    sw_complaints *complaints = sw_complaints_new();
    cr_assert_eq(
        sw_interview_begin(&interview, "scenarios/attic-desk.json", NULL, NULL, complaints), SW_OK);
    sw_complaints_free(complaints);
    return interview;
}

static void answer(sw_interview *interview, const char *text) {
    cr_assert_eq(sw_interview_answer(interview, text, strlen(text)), SW_OK);
}

/* The kinds told of, in their order, with blanks between. */
static void check_sorted(const char *words, const char *kinds) {
    sw_interview *interview = begin();
    sw_text found = {0};
    answer(interview, words);
    for (size_t t = 0; t < interview->told.trouble_count; t++)
        sw_text_addf(&found, "%s%s", t == 0 ? "" : " ",
                     interview->draft->catalog->troubles[interview->told.troubles[t].trouble].id);
    sw_text_add(&found, "");
    cr_expect_str_eq(found.bytes, kinds, "\"%s\" was sorted as \"%s\"", words, found.bytes);
    sw_text_free(&found);
    sw_interview_free(interview);
}

Test(ask, complaints_are_sorted_by_their_words) {
    static const struct {
        const char *words, *kinds;
    } cases[] = {
        {"We hear it through the floor", "too-loud"},
        {"IT IS LOUD!", "too-loud"},
        {"The fan roars all evening.", "too-loud"},
        {"It clicks, and my photos are in there", "something-fails"},
        {"It makes a humming sound", "whines"},
        {"When it gets wild, it stutters", "stutters"},
        {"It is slow", "slow-at-everything"},
        {"It is slow to start", "slow-to-open"},
        {"No room left for photos", "full"},
        {"The disk is full", "full"},
        {"It switches itself off", "crashes"},
        {"it crashes and it is hot", "crashes too-hot"},
        {"It looks shabby", "ugly"},
        {"The picture is dull", "picture-poor"},
        {"the keys stick", "keys-tired"},
        {"my mouse jumps", "pointer-tired"},
        {"It is loud. And slow to load; and loud again", "too-loud slow-to-open"},
        {"Slow and loud", "slow-at-everything too-loud"},
        {"My neighbour's cat", ""},
        {"", ""},
    };
    for (size_t i = 0; i + 1 < sizeof cases / sizeof *cases; i++)
        check_sorted(cases[i].words, cases[i].kinds);
}

Test(ask, what_is_not_so_is_no_complaint) {
    check_sorted("It is not loud", "");
    check_sorted("It never crashes", "");
    check_sorted("It is not loud but it is slow", "slow-at-everything");
    check_sorted("It isn\xe2\x80\x99t hot", "");
    check_sorted("It does not keep up", "stutters");
    check_sorted("no noise", "");
    check_sorted("It makes no noise", "");
    check_sorted("It does not make any noise", "");
    check_sorted("not loud any more", "");
    check_sorted("it isn't noisy", "");
    check_sorted("without any noise", "");
    check_sorted("quiet enough", "");
    check_sorted("The fan is quiet enough", "");
    check_sorted("The fan is not quiet enough", "too-loud");
    check_sorted("The noise is gone, but it stutters", "stutters");
    check_sorted("The noise does not bother me", "");
    check_sorted("The fan is fine; the screen is not", "picture-poor");
    check_sorted("I cannot hear it", "");
    check_sorted("No picture at times", "picture-poor");
    check_sorted("It is not one that I would call loud", "too-loud"); /* three words away */
}

static void check_danger(const char *words, const char *danger) {
    sw_interview *interview = begin();
    answer(interview, words);
    const sw_told *told = &interview->told;
    const char *first = told->danger_count == 0 ? "" : told->dangers[0].danger->id;
    cr_expect_str_eq(first, danger, "\"%s\": \"%s\"", words, first);
    cr_expect_eq(interview->notice[0] != '\0', danger[0] != '\0');
    cr_expect_eq(interview->asked.kind, SW_ASKED_SORTED);
    answer(interview, "none");
    cr_expect_eq(told->danger_count, danger[0] != '\0'); /* none takes it not away */
    sw_interview_free(interview);
}

/* That these are signs of danger: common practice, no source. */
Test(ask, words_of_danger_are_heard) {
    check_danger("It smells of burning", "burning");
    check_danger("Sparks come out of the power unit", "burning");
    check_danger("there is SMOKE!", "burning");
    check_danger("It is loud, and yesterday it smelled burnt", "burning");
    check_danger("my son got a shock", "shock");
    check_danger("The case tingles", "shock");
    check_danger("There is liquid under it", "liquid");
    check_danger("I spilled tea", "liquid");
    check_danger("the battery is swollen", "battery");
    check_danger("The battery gets hot", "battery");
    check_danger("It does not smoke", "burning");
    check_danger("It is hot and loud", "");
    check_danger("sparkling water", "");
}

Test(ask, parts_of_words_are_no_words) {
    check_sorted("A cloud of fantasy", "");
    check_sorted("The shot was photographed", "");
    check_sorted("It stuttered", "stutters");
    check_sorted("noisily", "");
}

Test(ask, the_words_of_a_complaint_are_its_clauses) {
    sw_interview *interview = begin();
    answer(interview, "At 1.5 m it is loud; it is slow. My son hears it: too loud!");
    const sw_told *told = &interview->told;
    cr_assert_eq(told->trouble_count, 2);
    cr_expect_str_eq(told->troubles[0].words, "At 1.5 m it is loud; My son hears it: too loud");
    cr_expect_str_eq(told->troubles[1].words, "it is slow");
    sw_interview_free(interview);
}

Test(ask, what_was_understood_can_be_put_right) {
    sw_interview *interview = begin();
    answer(interview, "It is loud");
    cr_expect_eq(interview->asked.kind, SW_ASKED_SORTED);
    answer(interview, "2");
    const sw_told *told = &interview->told;
    cr_assert_eq(told->trouble_count, 1);
    cr_expect_str_eq(interview->draft->catalog->troubles[told->troubles[0].trouble].id, "whines");
    cr_expect_str_eq(told->troubles[0].words, "It is loud");
    answer(interview, "back");
    cr_expect_eq(interview->asked.topic, SW_TOPIC_COMPLAINT);
    cr_expect_eq(interview->asked.kind, SW_ASKED_TOPIC);
    sw_interview_free(interview);
}

/* ---- shares -----------------------------------------------------------------------------------
 */

/* "id thousandths" of each use, with commas between. */
static void check_shares(const char *typed, const char *shares) {
    sw_interview *interview = begin();
    sw_text found = {0};
    answer(interview, "none"); /* a complaint that stands would ask for its use */
    answer(interview, typed);
    cr_expect_str_eq(interview->refusal, "", "\"%s\": %s", typed, interview->refusal);
    for (size_t u = 0; u < interview->told.use_count; u++)
        sw_text_addf(&found, "%s%s %lld", u == 0 ? "" : ", ",
                     interview->draft->catalog->uses[interview->told.uses[u].use].id,
                     (long long)interview->told.uses[u].share_milli);
    sw_text_add(&found, "");
    cr_expect_str_eq(found.bytes, shares, "\"%s\" was read as \"%s\"", typed, found.bytes);
    sw_text_free(&found);
    sw_interview_free(interview);
}

Test(ask, shares_are_read) {
    check_shares("1 60, 4 40", "fast-play 60000, photo-work 40000");
    check_shares("  1   60 ,  4   40  ", "fast-play 60000, photo-work 40000");
    check_shares("1 60%, 4 40 %", "fast-play 60000, photo-work 40000");
    check_shares("4 12.5; 1 87.5", "photo-work 12500, fast-play 87500");
    check_shares("photo-work 70, office and browsing 30",
                 "photo-work 70000, office-and-browsing 30000");
    check_shares("Fast Play 100", "fast-play 100000");
    check_shares("10 0.125", "play-and-stream 125");
    check_shares("1 100,", "fast-play 100000");
}

static void check_no_shares(const char *typed, const char *because) {
    sw_interview *interview = begin();
    answer(interview, "none");
    answer(interview, typed);
    cr_expect(strstr(interview->refusal, because) != NULL, "\"%s\": \"%s\"", typed,
              interview->refusal);
    cr_expect_eq(interview->asked.topic, SW_TOPIC_USES);
    cr_expect_eq(interview->entry_count, 1);
    sw_interview_free(interview);
}

Test(ask, shares_that_are_none_are_refused) {
    check_no_shares("1 60,5, 4 40", "two ways");
    check_no_shares("1,60", "two ways");
    check_no_shares("1", "names no use with its share");
    check_no_shares("1 0", "no number above 0");
    check_no_shares("1 -5", "no number above 0");
    check_no_shares("1 1e2", "no number above 0");
    check_no_shares("1 12.3456", "no number above 0");
    check_no_shares("1 99999999999999999999", "no number above 0");
    check_no_shares("11 100", "no use of the list");
    check_no_shares("0 100", "no use of the list");
    check_no_shares("99999999999999999999 100", "no use of the list");
    check_no_shares("dreaming 100", "no use of the list");
    check_no_shares("1 50, 1 50", "twice");
    check_no_shares("1 50, fast play 50", "twice");
    check_no_shares(",", "no use stands there");
}

Test(ask, a_use_that_a_complaint_needs_stays) {
    sw_interview *interview = begin();
    answer(interview, "");
    answer(interview, "4 100"); /* the attic desk stutters in fast play */
    cr_expect(strstr(interview->refusal, "is about fast play") != NULL, "%s", interview->refusal);
    answer(interview, "4 40, 1 60");
    cr_expect_str_eq(interview->refusal, "");
    sw_interview_free(interview);
}

/* ---- what the numbers come to
 * -------------------------------------------------------------------- */

/* By hand: 1 - 2^-0.6 = 0.340, 2^0.7 - 1 = 0.625, 0.4 of it, and by ranks of two, 3/4 and 1/4,
 * 1 - 2^(-1/3) = 0.206. */
static void check_trade(const char *order, const char *worth, const char *said) {
    sw_interview *interview = begin();
    answer(interview, "none");
    answer(interview, "");
    answer(interview, "");
    answer(interview, order);
    answer(interview, worth);
    cr_expect_eq(interview->asked.kind, SW_ASKED_DOUBT);
    cr_expect(strstr(interview->asked.said, said) != NULL, "%s; %s: \"%s\"", order, worth,
              interview->asked.said);
    sw_interview_free(interview);
}

Test(ask, what_would_be_given_up_is_told_in_percent) {
    check_trade("1 2", "2 60", "half as loud, you would take it 34 % slower");
    check_trade("2 1", "1 70", "twice as fast, you would take it 62 % louder");
    check_trade("3 1", "1 40", "twice as fast, you would take it with 40 % of");
    check_trade("1 2", "2 0.5", "less than 1 % slower");
}

Test(ask, ranks_alone_weigh_by_their_places) {
    sw_interview *interview = NULL;
    sw_complaints *complaints = sw_complaints_new();
    cr_assert_eq(
        sw_interview_begin(&interview, "tests/intake/ask/draft.json", NULL, NULL, complaints),
        SW_OK);
    const char *const answers[] = {"none", "", "", "1 2", ""};
    for (size_t i = 0; i < 5; i++)
        answer(interview, answers[i]);
    cr_expect(strstr(interview->asked.said, "you would take it 21 % slower") != NULL, "%s",
              interview->asked.said);
    sw_interview_free(interview);
    sw_complaints_free(complaints);
}

/* ---- what stays --------------------------------------------------------------------------- */

Test(ask, all_is_all_that_can_stay) {
    sw_interview *interview = NULL;
    sw_complaints *complaints = sw_complaints_new();
    cr_assert_eq(
        sw_interview_begin(&interview, "tests/intake/ask/draft.json", NULL, NULL, complaints),
        SW_OK);
    const char *const answers[] = {"none", "", "", "1", "300", "", "all"};
    for (size_t i = 0; i < sizeof answers / sizeof *answers; i++)
        answer(interview, answers[i]);
    cr_expect_str_eq(interview->refusal, "");
    cr_expect_eq(interview->asked.topic, SW_TOPIC_AVOID);
    cr_expect(strstr(interview->notice, "Peatbank 2000 (The drive is dying") != NULL, "\"%s\"",
              interview->notice);
    for (size_t i = 0; i < interview->told.stayer_count; i++) {
        const sw_stayer *one = &interview->told.stayers[i];
        cr_expect_eq(one->kept, one->must_go == NULL);
    }
    answer(interview, "2");
    cr_expect_str_eq(interview->notice, "");
    sw_interview_free(interview);
    sw_complaints_free(complaints);
}

/* ---- what the sum is with --------------------------------------------------------------- */

static void check_budget_says(const char *path, const char *said) {
    sw_interview *interview = NULL;
    sw_complaints *complaints = sw_complaints_new();
    cr_assert_eq(sw_interview_begin(&interview, path, NULL, NULL, complaints), SW_OK);
    const char *const answers[] = {"none", "", "", "1"};
    for (size_t i = 0; i < sizeof answers / sizeof *answers; i++)
        answer(interview, answers[i]);
    cr_assert_eq(interview->asked.topic, SW_TOPIC_BUDGET);
    cr_expect(strstr(interview->asked.said, said) != NULL, "%s: \"%s\"", path,
              interview->asked.said);
    sw_interview_free(interview);
    sw_complaints_free(complaints);
}

Test(ask, what_work_and_tax_come_to_is_told) {
    check_budget_says("tests/intake/ask/draft.json",
                      "Work counts 15.00 an hour. 8.25 % of tax come on top.");
    check_budget_says("tests/intake/ask/unpriced.json",
                      "No labour rate is set: work counts nothing. No tax is set");
}

/* ---- rates: one numbering throughout ------------------------------------------------------- */

static void check_rates(const char *typed, const char *refusal, int64_t play, int64_t photo) {
    sw_interview *interview = begin();
    const char *const answers[] = {"none", "4 60, 1 40", typed};
    for (size_t i = 0; i < sizeof answers / sizeof *answers; i++)
        answer(interview, answers[i]);
    cr_expect(strstr(interview->refusal, refusal) != NULL, "\"%s\": \"%s\"", typed,
              interview->refusal);
    cr_expect_eq(interview->refusal[0] != '\0', refusal[0] != '\0');
    if (refusal[0] == '\0') {
        cr_expect_eq(interview->told.uses[0].now_milli, photo, "\"%s\"", typed);
        cr_expect_eq(interview->told.uses[1].now_milli, play, "\"%s\"", typed);
    }
    sw_interview_free(interview);
}

Test(ask, rates_are_named_as_the_uses_were) {
    check_rates("1 48 90, 4 26", "", 48000, 26000);
    check_rates("4 26", "", -1, 26000);
    check_rates("photo work 26 30; Fast Play 48", "", 48000, 26000);
    check_rates("photo-work 26.5", "", -1, 26500);
    check_rates("2 48", "none of the uses that were named: write one of 4 (photo work), 1 (fast", 0,
                0);
    check_rates("11 48", "none of the uses", 0, 0);
    check_rates("fast play", "the number or the name of the use", 0, 0);
    check_rates("1 48 90 100", "the number or the name of the use", 0, 0);
    check_rates("1 48, fast play 50", "twice", 0, 0);
    check_rates("1 999999999", "that can be counted with", 0, 0);
}
