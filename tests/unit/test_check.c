/* Catalogs and scenarios that hold: everything is resolved, ordered and filled
 * in as the formats say. What is refused is in test_refused.c. */
#include <criterion/criterion.h>
#include <math.h>

#include "check/stage.h"
#include "shelf.h"

static int role_of(const sw_catalog *catalog, const char *id) {
    for (size_t r = 0; r < catalog->role_count; r++)
        if (strcmp(catalog->roles[r].id, id) == 0)
            return (int)r;
    cr_assert_fail("no role %s", id);
    return SW_NONE;
}

static int fact_of(const sw_catalog *catalog, const char *name) {
    for (size_t f = 0; f < catalog->fact_count; f++)
        if (strcmp(catalog->facts[f].name, name) == 0)
            return (int)f;
    cr_assert_fail("no fact %s", name);
    return SW_NONE;
}

static const sw_part *part_of(const sw_catalog *catalog, const char *id) {
    for (size_t p = 0; p < catalog->part_count; p++)
        if (strcmp(catalog->parts[p].id, id) == 0)
            return &catalog->parts[p];
    cr_assert_fail("no part %s", id);
    return NULL;
}

static const sw_value *value_of(const sw_catalog *catalog, const sw_part *part, const char *fact) {
    return &part->values[fact_of(catalog, fact)];
}

static shelf good_shelf(void) {
    shelf is = shelf_make(NULL, NULL, NULL);
    shelf_read(&is);
    cr_assert_eq(is.status, SW_OK, "%s", shelf_said(&is));
    cr_assert_eq(sw_complaints_count(is.complaints), 0);
    return is;
}

Test(catalog, roles_in_byte_order_with_defaults) {
    shelf is = good_shelf();
    const sw_catalog *catalog = is.scenario->catalog;
    static const char *const ids[] = {"board", "case", "fans", "memory"};
    cr_assert_eq(catalog->role_count, COUNT(ids));
    for (size_t r = 0; r < COUNT(ids); r++)
        cr_expect_str_eq(catalog->roles[r].id, ids[r]);
    const sw_role *fans = &catalog->roles[2], *memory = &catalog->roles[3];
    cr_expect(fans->least == 0 && fans->most == 3 && fans->new_kinds == 2 && fans->minutes == 0);
    cr_assert_eq(fans->count_count, 3, "1 to most");
    cr_expect(fans->counts[0] == 1 && fans->counts[2] == 3);
    cr_expect_not(fans->all_or_none);
    cr_assert_eq(memory->count_count, 3);
    cr_expect(memory->counts[2] == 4 && memory->new_kinds == 1 && memory->minutes == 10);
    cr_expect(catalog->roles[1].all_or_none);
    cr_expect(catalog->roles[0].most == 1 && catalog->roles[0].count_count == 1);
    shelf_free(&is);
}

Test(catalog, facts_and_derived_facts) {
    shelf is = good_shelf();
    const sw_catalog *catalog = is.scenario->catalog;
    int memory = role_of(catalog, "memory");
    cr_assert_eq(catalog->fact_count, 16, "13, 2 derived, and pieces");
    const sw_fact *slot = &catalog->facts[fact_of(catalog, "slot")];
    cr_expect(slot->type == SW_TOKEN && slot->combine == SW_EACH && slot->token_count == 2);
    cr_expect(slot->on_role[memory] && !slot->on_role[role_of(catalog, "fans")]);
    cr_expect_eq(slot->derived_role, SW_NONE);
    const sw_fact *noise = &catalog->facts[fact_of(catalog, "noise_dba")];
    cr_expect(noise->combine == SW_POWER && noise->least_milli == -10000 &&
              noise->most_milli == 90000 && noise->absent.state == SW_VOID);
    const sw_fact *flow = &catalog->facts[fact_of(catalog, "flow_gb_s")];
    cr_expect(flow->derived_role == memory && flow->on_role[memory]);
    cr_assert_eq(flow->is->op, SW_EXPR_PRODUCT);
    cr_assert_eq(flow->is->count, 3);
    cr_expect(flow->is->operands[0].op == SW_EXPR_TABLE && flow->is->operands[0].point_count == 2 &&
              flow->is->operands[0].operands[0].fact == fact_of(catalog, "pieces"));
    cr_expect(flow->is->operands[1].op == SW_EXPR_FACT &&
              flow->is->operands[1].fact == fact_of(catalog, "speed_mt_s"));
    cr_expect(flow->is->operands[2].op == SW_EXPR_NUMBER && flow->is->operands[2].number == 0.008);
    const sw_expr *pick = &catalog->facts[fact_of(catalog, "flow_more")].is->operands[1];
    cr_expect(pick->op == SW_EXPR_PICK && pick->number == 1 && pick->point_count == 1 &&
              pick->ys[0] == 2.5);
    cr_expect_str_eq(pick->tokens[0], "d5");
    shelf_free(&is);
}

Test(catalog, values_of_parts) {
    shelf is = good_shelf();
    const sw_catalog *catalog = is.scenario->catalog;
    const sw_part *memory = part_of(catalog, "mem-a"), *chassis = part_of(catalog, "case-a");
    const sw_part *fan = part_of(catalog, "fan-a");
    cr_expect_eq(value_of(catalog, memory, "size_gb")->milli, 8000);
    cr_expect_eq(value_of(catalog, memory, "rated_mt_s")->state, SW_UNKNOWN, "not stated");
    cr_expect_eq(value_of(catalog, memory, "noise_dba")->state, SW_VOID, "silent when absent");
    cr_expect_eq(value_of(catalog, memory, "most_gb")->state, SW_VOID, "not on this role");
    cr_expect_eq(value_of(catalog, memory, "flow_gb_s")->state, SW_VOID, "derived");
    cr_expect_eq(value_of(catalog, chassis, "lit")->milli, 1000);
    const sw_value *lit = value_of(catalog, fan, "lit");
    cr_expect(lit->state == SW_KNOWN && lit->milli == 0, "absent is false");
    const sw_value *loss = value_of(catalog, chassis, "loss_db");
    cr_expect(loss->state == SW_KNOWN && loss->milli == 0);
    const sw_value *forms = value_of(catalog, chassis, "forms");
    cr_assert_eq(forms->token_count, 2);
    cr_expect_str_eq(forms->tokens[0], "large", "sorted by bytes");
    cr_expect_eq(value_of(catalog, fan, "noise_dba")->milli, 22500);
    cr_expect_str_eq(memory->maker, "");
    cr_expect_str_eq(fan->maker, "Owl Yard");
    shelf_free(&is);
}

Test(catalog, sites_and_things) {
    shelf is = good_shelf();
    const sw_catalog *catalog = is.scenario->catalog;
    const sw_value *sites = value_of(catalog, part_of(catalog, "case-a"), "sites");
    cr_assert_eq(sites->site_count, 2);
    const sw_site *front = &sites->sites[0], *top = &sites->sites[1];
    cr_expect(front->count == 3 && front->depth_milli == 30000 && front->side == NULL);
    cr_assert_eq(front->size_count, 2);
    cr_expect_str_eq(front->sizes[0], "120");
    cr_assert_eq(front->takes_count, 1);
    cr_expect(front->takes[0].index == 1 && front->takes[0].count == 1);
    cr_expect(top->count == 1 && top->depth_milli == -1 && top->takes_count == 0);
    cr_expect_str_eq(top->side, "top");
    const sw_value *things = value_of(catalog, part_of(catalog, "fan-a"), "things");
    cr_assert_eq(things->thing_count, 1);
    cr_expect(things->things[0].count == 1 && things->things[0].depth_milli == 25000);
    const sw_value *none = value_of(catalog, part_of(catalog, "mem-a"), "things");
    cr_expect(none->state == SW_VOID && none->thing_count == 0);
    shelf_free(&is);
}

Test(catalog, rules_and_conditions) {
    shelf is = good_shelf();
    const sw_catalog *catalog = is.scenario->catalog;
    cr_assert_eq(catalog->rule_count, 7);
    const sw_rule *form = &catalog->rules[1], *size = &catalog->rules[2];
    const sw_rule *air = &catalog->rules[3], *glow = &catalog->rules[5];
    cr_expect(form->shape == SW_AMONG && form->hard);
    cr_assert_eq(form->unless_count, 1);
    cr_expect(form->unless[0].op == SW_COND_HOLDS && !form->unless[0].negated);
    cr_expect_eq(form->unless[0].role, role_of(catalog, "case"));
    cr_expect_str_eq(catalog->parts[form->unless[0].index].id, "case-a");
    cr_expect(!size->hard && size->left.fact == fact_of(catalog, "size_gb") &&
              size->right.fact == fact_of(catalog, "most_gb"));
    cr_expect(size->taken_count == 1 && size->taken[0].role == SW_EVERY_ROLE);
    cr_assert(air->load_count == 2 && air->supply_count == 2);
    cr_expect(air->loads[0].factor_milli == 1500 && air->loads[0].term.role == SW_EVERY_ROLE);
    cr_expect(air->loads[1].term.fact == SW_NONE && air->loads[1].fixed_milli == -3000);
    cr_expect(air->supplies[0].factor_milli == 1000);
    cr_assert_eq(glow->cond_count, 6);
    cr_expect(glow->conds[0].op == SW_COND_IS && glow->conds[0].milli == 1000);
    cr_expect(glow->conds[1].op == SW_COND_ONE_OF && glow->conds[1].token_count == 2);
    cr_expect_str_eq(glow->conds[1].tokens[0], "black");
    cr_expect(glow->conds[4].op == SW_COND_IS && glow->conds[4].token_count == 1);
    cr_expect_eq(glow->conds[5].milli, 8000);
    cr_expect(catalog->rules[4].to.op == SW_COND_TASK &&
              catalog->rules[4].to.role == role_of(catalog, "memory"));
    cr_expect_str_eq(catalog->rules[6].kind, "fan");
    shelf_free(&is);
}

Test(catalog, tasks_sellers_listings_in_order) {
    shelf is = good_shelf();
    const sw_catalog *catalog = is.scenario->catalog;
    cr_expect_str_eq(catalog->currency, "EUR");
    cr_expect_eq(catalog->currency_digits, 2);
    cr_assert_eq(catalog->task_count, 2);
    const sw_task *clean = &catalog->tasks[0];
    cr_expect_str_eq(clean->id, "clean");
    cr_expect(clean->any_piece && clean->price == 150 && clean->minutes == 0 &&
              clean->need_count == 0 && clean->family == NULL && clean->caution == NULL);
    cr_assert_eq(clean->effect_count, 3);
    cr_expect(clean->effects[0].op == SW_EFFECT_ADD && clean->effects[0].milli == -2500);
    cr_expect(clean->effects[1].op == SW_EFFECT_SET && clean->effects[1].set.state == SW_KNOWN &&
              clean->effects[1].set.milli == 0);
    cr_expect(clean->effects[2].op == SW_EFFECT_TIMES && clean->effects[2].milli == 900);
    const sw_effect *profile = &catalog->tasks[1].effects[0];
    cr_expect(profile->op == SW_EFFECT_SET_FROM && profile->from == fact_of(catalog, "rated_mt_s"));
    cr_expect_str_eq(catalog->sellers[0].id, "barn");
    cr_expect(!catalog->sellers[0].has_delivery && catalog->sellers[0].minutes == 12);
    cr_expect(catalog->sellers[1].delivery == 490 && catalog->sellers[1].free_from == 6000);
    static const char *const order[] = {"board-a", "fan-a", "mem-b", "mem-b"};
    cr_assert_eq(catalog->listing_count, COUNT(order));
    for (size_t i = 0; i < COUNT(order); i++)
        cr_expect_str_eq(catalog->parts[catalog->listings[i].part].id, order[i]);
    cr_expect(catalog->listings[2].seller == 0 && catalog->listings[2].price == 4400);
    cr_expect(catalog->listings[3].seller == 1 && catalog->listings[3].warranty_months == 24);
    shelf_free(&is);
}

Test(catalog, wants) {
    shelf is = good_shelf();
    const sw_catalog *catalog = is.scenario->catalog;
    cr_assert_eq(catalog->criterion_count, 4);
    const sw_criterion *looks = &catalog->criteria[2], *roomy = &catalog->criteria[3];
    cr_expect_eq(catalog->criteria[1].noise_fact, fact_of(catalog, "noise_dba"));
    cr_expect(looks->shows_count == 2 && looks->shows[1].weight_milli == 2500);
    cr_expect(looks->aspect_count == 2 && looks->aspects[0].scale_milli == 0 &&
              looks->aspects[1].scale_milli == 10000);
    cr_expect(roomy->fact_count == 2 && roomy->facts[1].role == SW_EVERY_ROLE);
    cr_assert_eq(catalog->use_count, 2);
    const sw_expr *rate = catalog->uses[0].stages[0].rate;
    cr_assert(rate->op == SW_EXPR_PRODUCT && rate->count == 3);
    cr_expect(rate->operands[1].op == SW_EXPR_POWER && rate->operands[1].number == 0.5);
    cr_expect_eq(rate->operands[1].operands[0].op, SW_EXPR_LEAST);
    shelf_free(&is);
}

/* ---- scenarios ------------------------------------------------------------------------- */

Test(scenario, machine_with_changed_and_own_parts) {
    shelf is = good_shelf();
    const sw_scenario *job = is.scenario;
    const sw_catalog *catalog = job->catalog;
    int memory = role_of(catalog, "memory"), board = role_of(catalog, "board");
    int chassis = role_of(catalog, "case"), fans = role_of(catalog, "fans");
    cr_expect_eq(job->part_count, catalog->part_count + 3);
    cr_assert_eq(job->machine_count[memory], 2);
    cr_expect_str_eq(job->parts[job->machine[memory][0].part].id, "mem-a", "in byte order");
    cr_expect(job->machine[memory][0].count == 2 && job->machine[memory][0].offer == 500 &&
              job->machine[memory][0].hoped == 900 && job->machine[memory][0].condition == SW_WORN);
    cr_expect(job->machine[memory][1].count == 1 && job->machine[memory][1].condition == SW_GOOD);
    cr_assert_eq(job->machine_count[board], 1);
    int changed = job->machine[board][0].part;
    cr_expect_geq(changed, (int)catalog->part_count);
    cr_expect_str_eq(job->parts[changed].id, "board-a");
    cr_expect_eq(value_of(catalog, &job->parts[changed], "speed_mt_s")->milli, 2666000);
    cr_expect_eq(value_of(catalog, &job->parts[changed], "most_gb")->milli, 64000);
    cr_expect_eq(value_of(catalog, part_of(catalog, "board-a"), "speed_mt_s")->milli, 3200000,
                 "the part bought new stays as it is");
    const sw_part *own = &job->parts[job->machine[chassis][0].part];
    cr_expect_str_eq(own->name, "old box");
    cr_expect_eq(value_of(catalog, own, "loss_db")->state, SW_KNOWN);
    cr_expect_eq(job->machine_count[fans], 0);
    shelf_free(&is);
}

Test(scenario, given_musts_and_wishes) {
    shelf is = good_shelf();
    const sw_scenario *job = is.scenario;
    const sw_catalog *catalog = job->catalog;
    cr_assert_eq(job->given_count, 2);
    cr_expect_str_eq(job->parts[job->given[0].part].id, "fan-a", "in byte order");
    cr_expect(job->given[0].count == 1 && job->given[0].days == 0 && !job->given[0].must_use);
    const sw_given *gift = &job->given[1];
    cr_expect(gift->count == 2 && gift->days == 30 && gift->must_use && gift->no_resale &&
              !gift->must_show);
    cr_assert_eq(job->must_count, 2);
    cr_expect_str_eq(job->parts[job->musts[0].part].id, "mem-a");
    cr_expect(job->musts[0].task == SW_NONE && job->musts[1].part == SW_NONE);
    cr_expect_str_eq(catalog->tasks[job->musts[1].task].id, "profile");
    cr_expect(job->observed[0] && !job->observed[1]);
    cr_expect(job->keep_role[role_of(catalog, "case")] && !job->replace_role[0]);
    cr_expect(job->replace_part[job->musts[0].part]);
    for (size_t p = 0; p < job->part_count; p++)
        cr_expect_eq(job->avoid_part[p], strcmp(job->parts[p].maker, "Owl Yard") == 0, "%s",
                     job->parts[p].id);
    cr_assert_eq(job->use_count, 1);
    cr_expect(job->uses[0].share_milli == 60000 && job->uses[0].rate_now_milli == 48000 &&
              job->uses[0].rate_wanted_milli == 90000);
    cr_assert_eq(job->taste_count, 1);
    cr_expect_str_eq(job->tastes[0].tokens[0], "black");
    cr_expect(job->loudness_limit_milli == 2500 && job->days_limit == 6 &&
              job->minutes_limit == 180 && job->room_milli == 30000);
    shelf_free(&is);
}

Test(scenario, money) {
    shelf is = good_shelf();
    sw_scenario *job = is.scenario;
    cr_expect(job->labour_per_hour == 3600 && job->tax.percent_milli == 8250 &&
              job->tax.prices == SW_PRICES_WITHOUT_TAX && job->tax.rounding == SW_HALF_EVEN &&
              job->tax.per_invoice && job->allow_unknown);
    cr_expect_eq(sw_scenario_budget(job), 65000 - 3000 - 800);
    cr_expect_eq(sw_scenario_set_budget(job, "1000.50", is.complaints), SW_OK);
    cr_expect_eq(sw_scenario_budget(job), 100050 - 3800);
    cr_expect_eq(sw_scenario_set_budget(job, "10", is.complaints), SW_OK);
    cr_expect_eq(sw_scenario_budget(job), 0, "never below nothing");
    cr_expect_eq(sw_scenario_set_budget(job, "12,50", is.complaints), SW_BAD_DATA);
    cr_expect_eq(job->budget_total, 1000, "a bad budget changes nothing");
    cr_assert_eq(sw_complaints_count(is.complaints), 1);
    cr_expect_str_eq(sw_complaints_get(is.complaints, 0)->file, "--budget");
    shelf_free(&is);
}

/* Swing weights: von Winterfeldt and Edwards 1986. */
Test(scenario, swings_become_weights) {
    shelf is = good_shelf();
    static const double weights[] = {0.5, 0.3, 0.2, 0};
    for (size_t c = 0; c < COUNT(weights); c++)
        cr_expect_float_eq(is.scenario->weights[c], weights[c], 1e-15);
    shelf_free(&is);
}

/* Rank-order centroid weights: Barron and Barrett 1996. */
Test(scenario, ranks_become_weights) {
    static const struct {
        const char *ranks;
        double weights[4]; /* speed, quiet, looks, roomy */
    } rows[] = {
        {"\"ranks\":[\"quiet\"]", {0, 1, 0, 0}},
        {"\"ranks\":[\"quiet\",\"speed\"]", {1.0 / 4, 3.0 / 4, 0, 0}},
        {"\"ranks\":[\"speed\",\"quiet\",\"looks\"]", {11.0 / 18, 5.0 / 18, 1.0 / 9, 0}},
        {"\"ranks\":[\"roomy\",\"looks\",\"quiet\",\"speed\"]",
         {1.0 / 16, 7.0 / 48, 13.0 / 48, 25.0 / 48}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        shelf is = shelf_make(
            "jobs/job.json", "\"swings\":{\"speed\":100,\"quiet\":60,\"looks\":40}", rows[i].ranks);
        shelf_read(&is);
        cr_assert_eq(is.status, SW_OK, "row %zu: %s", i, shelf_said(&is));
        for (size_t c = 0; c < 4; c++)
            cr_expect_float_eq(is.scenario->weights[c], rows[i].weights[c], 1e-12, "row %zu", i);
        shelf_free(&is);
    }
}

Test(scenario, what_may_be_left_out) {
    shelf is = shelf_make(NULL, NULL, NULL);
    static const char job[] =
        "{\"schema\":1,\"catalog\":\"../catalog\",\"currency\":\"EUR\",\"machine\":{\"memory\":["
        "{\"part\":\"mem-a\"}],\"board\":[{\"part\":\"board-a\"}],\"case\":[{\"part\":\"case-a\"}]"
        "},\"wishes\":{\"swings\":{\"quiet\":1}},\"budget\":{\"total\":\"1\"}}";
    shelf_write(&is, "jobs/job.json", job, sizeof job - 1);
    shelf_read(&is);
    cr_assert_eq(is.status, SW_OK, "%s", shelf_said(&is));
    const sw_scenario *made = is.scenario;
    cr_expect(made->days_limit == -1 && made->minutes_limit == -1 &&
              made->loudness_limit_milli == -1 && made->room_milli == 25000);
    cr_expect(made->tax.prices == SW_PRICES_WITH_TAX && !made->tax.per_invoice &&
              made->tax.rounding == SW_HALF_UP && made->tax.percent_milli == 0);
    cr_expect(made->labour_per_hour == 0 && made->given_count == 0 && made->must_count == 0 &&
              made->use_count == 0 && made->taste_count == 0 && !made->allow_unknown);
    cr_expect_str_eq(made->date, "");
    shelf_free(&is);
}

Test(scenario, another_catalog_may_be_named) {
    shelf is = shelf_make("jobs/job.json", "\"catalog\":\"../catalog\"", "\"catalog\":\"gone\"");
    sw_status status = sw_scenario_read(&is.scenario, is.job, is.catalog, is.complaints);
    cr_expect_eq(status, SW_OK, "%s", shelf_said(&is));
    shelf_free(&is);
}

Test(scenario, dates_of_the_calendar) {
    static const struct {
        const char *from, *to;
        int64_t days;
    } rows[] = {
        {"2026-03-02", "2026-03-02", 0},   {"2026-03-02", "2026-03-09", 7},
        {"2023-02-28", "2023-03-01", 1},   {"2024-02-28", "2024-03-01", 2},
        {"1900-02-28", "1900-03-01", 1},   {"2000-02-28", "2000-03-01", 2},
        {"2025-12-31", "2026-01-01", 1},   {"1970-01-01", "2000-01-01", 10957},
        {"0001-01-01", "0001-12-31", 364}, {"0001-01-01", "9999-12-31", 3652058},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        int64_t from = 0, to = 0;
        cr_expect(sw_date_parse(&from, rows[i].from) && sw_date_parse(&to, rows[i].to));
        cr_expect_eq(to - from, rows[i].days, "%s to %s", rows[i].from, rows[i].to);
    }
    static const char *const none[] = {
        "",           "2026-3-2",   "2026-02-29", "2100-02-29",  "2026-13-01", "2026-00-10",
        "2026-04-31", "2026-01-00", "0000-01-01", "2026-03-021", "02-03-2026", "2026/03/02",
        "2026-0a-02", "-026-03-02", "2026-03-2 ", "20260302",    "+026-03-02",
    };
    for (size_t i = 0; i < COUNT(none); i++) {
        int64_t day = 0;
        cr_expect_not(sw_date_parse(&day, none[i]), "%s", none[i]);
    }
}
