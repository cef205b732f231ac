/* Money through a whole job: a shop sells one part for each of some roles, the client must
 * have them, and the plan's bill is read from its JSON. Minor units by ISO 4217, list one;
 * ties by IEEE 754-2019, 4.3.1 (to even) and ISO 80000-1, annex B, rules A and B, from memory;
 * the sums were computed apart from this program with exact decimals. */
#include <criterion/criterion.h>
#include <cjson/cJSON.h>
#include <dirent.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "swapworth.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define ROLES_MOST 3

typedef struct job {
    const char *currency, *price; /* of each part */
    int parts;                    /* in as many roles: at most ROLES_MOST */
    const char *percent, *round, *per, *budget;
} job;

typedef struct bill {
    char parts[32], tax[32], total[32]; /* "" when there is none */
    char complaint[160];
    sw_status status;
} bill;

static const char *const folders[] = {"", "/parts"};
static const char *const files[] = {
    "roles.json",       "facts.json",   "observations.json", "tasks.json",
    "parts/parts.json", "rules.json",   "charges.json",      "criteria.json",
    "uses.json",        "sellers.json", "listings.csv",      "job.json",
};

__attribute__((format(printf, 3, 4))) static void put(const char *folder, const char *name,
                                                      const char *format, ...) {
    char path[160];
    va_list rest;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    cr_assert_not_null(file, "%s", path);
    va_start(rest, format);
    cr_assert_geq(vfprintf(file, format, rest), 0);
    va_end(rest);
    cr_assert_eq(fclose(file), 0);
}

/* `format` with the number of each part in it, `between` between them. */
static const char *each(char *room, size_t size, int parts, const char *format,
                        const char *between) {
    size_t length = 0;
    *room = '\0';
    for (int i = 0; i < parts; i++) {
        const char *at = format;
        length += (size_t)snprintf(room + length, size - length, "%s", i > 0 ? between : "");
        for (; *at != '\0'; at++)
            length += (size_t)snprintf(room + length, size - length, *at == '#' ? "%d" : "%c",
                                       *at == '#' ? i : *at);
        cr_assert_lt(length, size);
    }
    return room;
}

static void write_catalog(const char *folder, const job *is) {
    char list[1024], line[160];
    put(folder, "roles.json", "{\"schema\":1,\"roles\":[%s]}",
        each(list, sizeof list, is->parts, "{\"role\":\"r#\",\"name\":\"r#\",\"least\":1}", ","));
    put(folder, "facts.json",
        "{\"schema\":1,\"facts\":[{\"fact\":\"worth\",\"type\":\"number\",\"roles\":[%s],"
        "\"combine\":\"sum\",\"least\":0,\"most\":10,\"meaning\":\"m\",\"source\":\"s\"}]}",
        each(list, sizeof list, is->parts, "\"r#\"", ","));
    put(folder, "observations.json", "{\"schema\":1,\"observations\":[]}");
    put(folder, "tasks.json", "{\"schema\":1,\"tasks\":[]}");
    put(folder, "parts/parts.json", "{\"schema\":1,\"parts\":[%s]}",
        each(list, sizeof list, is->parts,
             "{\"id\":\"new-#\",\"role\":\"r#\",\"name\":\"n\",\"facts\":{\"worth\":5}}", ","));
    put(folder, "rules.json", "{\"schema\":1,\"rules\":[]}");
    put(folder, "charges.json", "{\"schema\":1,\"charges\":[]}");
    put(folder, "criteria.json",
        "{\"schema\":1,\"criteria\":[{\"id\":\"good\",\"name\":\"n\",\"kind\":\"rated\","
        "\"facts\":[\"*.worth\"],\"scale\":10}]}");
    put(folder, "uses.json", "{\"schema\":1,\"uses\":[]}");
    put(folder, "sellers.json",
        "{\"schema\":1,\"currency\":\"%s\",\"sellers\":[{\"id\":\"yard\",\"name\":\"Y\"}]}",
        is->currency);
    snprintf(line, sizeof line, "new-#,yard,%s,1,0,0,0\n", is->price);
    put(folder, "listings.csv", "part,seller,price,stock,days,warranty_months,return_days\n%s",
        each(list, sizeof list, is->parts, line, ""));
}

static void write_job(const char *folder, const job *is) {
    char machine[1024], musts[1024];
    put(folder, "job.json",
        "{\"schema\":1,\"title\":\"t\",\"catalog\":\".\",\"currency\":\"%s\",\"machine\":{%s},"
        "\"musts\":[%s],\"wishes\":{\"swings\":{\"good\":100}},\"budget\":{\"total\":\"%s\"},"
        "\"tax\":{\"percent\":%s,\"prices\":\"without\",\"round\":\"%s\",\"per\":\"%s\"}}",
        is->currency,
        each(machine, sizeof machine, is->parts,
             "\"r#\":[{\"part\":\"old-#\",\"name\":\"o\",\"facts\":{\"worth\":1}}]", ","),
        each(musts, sizeof musts, is->parts, "{\"id\":\"m#\",\"replace\":\"old-#\",\"why\":\"w\"}",
             ","),
        is->budget, is->percent, is->round, is->per);
}

static void copy_money(char *out, size_t size, const cJSON *of, const char *name) {
    const cJSON *money = cJSON_GetObjectItemCaseSensitive(of, name);
    snprintf(out, size, "%s", cJSON_IsString(money) ? money->valuestring : "?");
}

static void read_bill(bill *out, const char *json) {
    cJSON *root = cJSON_Parse(json);
    const cJSON *bundle = cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(root, "bundles"), 0);
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(bundle, "bill");
    if (found != NULL) {
        copy_money(out->parts, sizeof out->parts, found, "parts");
        copy_money(out->tax, sizeof out->tax, found, "tax");
        copy_money(out->total, sizeof out->total, found, "total");
    }
    cJSON_Delete(root);
}

/* The bill of the one bundle there is, or what the job is refused for. */
static bill billed(const job *is) {
    char folder[] = "/tmp/swapworth-money-XXXXXX", path[160];
    bill out = {.status = SW_INTERNAL};
    cr_assert_not_null(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/parts", folder);
    cr_assert_eq(mkdir(path, 0700), 0);
    write_catalog(folder, is);
    write_job(folder, is);
    sw_complaints *complaints = sw_complaints_new();
    sw_scenario *scenario = NULL;
    sw_answer *answer = NULL;
    sw_plan_options options = sw_plan_options_default();
    snprintf(path, sizeof path, "%s/job.json", folder);
    out.status = sw_scenario_read(&scenario, path, NULL, complaints);
    if (out.status == SW_OK)
        out.status = sw_plan(&answer, scenario, &options, complaints);
    char *json = NULL;
    if (out.status == SW_OK) {
        cr_assert_eq(sw_render_plan_json(&json, answer), SW_OK);
        read_bill(&out, json);
    }
    const sw_complaint *first = sw_complaints_get(complaints, 0);
    if (first != NULL)
        snprintf(out.complaint, sizeof out.complaint, "%s: %s", first->place, first->what);
    free(json);
    sw_answer_free(answer);
    sw_scenario_free(scenario);
    sw_complaints_free(complaints);
    for (size_t i = 0; i < COUNT(files); i++) {
        snprintf(path, sizeof path, "%s/%s", folder, files[i]);
        remove(path);
    }
    for (size_t i = COUNT(folders); i-- > 0;) {
        snprintf(path, sizeof path, "%s%s", folder, folders[i]);
        rmdir(path);
    }
    return out;
}

/* ---- minor units: ISO 4217, list one ------------------------------------------------- */

Test(job_money, minor_units) {
    static const struct {
        const char *currency;
        int digits;
    } rows[] = {{"USD", 2}, {"EUR", 2}, {"GBP", 2}, {"HUF", 2}, {"TWD", 2}, {"MRU", 2}, {"JPY", 0},
                {"KRW", 0}, {"VND", 0}, {"CLP", 0}, {"ISK", 0}, {"XAF", 0}, {"XPF", 0}, {"PYG", 0},
                {"KWD", 3}, {"BHD", 3}, {"OMR", 3}, {"TND", 3}, {"JOD", 3}, {"CLF", 4}, {"UYW", 4}};
    static const char *const prices[] = {"7", "7.3", "7.31", "7.312", "7.3125", "7.31256"};
    static const char *const told[] = {"7", "7.3", "7.31", "7.312", "7.3125"};
    for (size_t i = 0; i < COUNT(rows); i++) {
        int digits = rows[i].digits;
        job is = {rows[i].currency, prices[digits], 1, "0", "half-up", "line", "100"};
        bill exact = billed(&is);
        cr_expect_eq(exact.status, SW_OK, "%s: %s", is.currency, exact.complaint);
        cr_expect_str_eq(exact.total, told[digits], "%s: %s", is.currency, exact.total);
        is.price = prices[digits + 1];
        cr_expect_eq(billed(&is).status, SW_BAD_DATA, "%s: %s is one digit too many", is.currency,
                     is.price);
        /* Whole money is told with all its digits. */
        static const char *const whole[] = {"7", "7.0", "7.00", "7.000", "7.0000"};
        is.price = prices[0];
        bill round = billed(&is);
        cr_expect_str_eq(round.total, whole[digits], "%s: %s", is.currency, round.total);
    }
    job none = {"XAU", "7", 1, "0", "half-up", "line", "100"};
    cr_expect_eq(billed(&none).status, SW_BAD_DATA, "gold has no minor unit");
}

/* ---- tax: ties --------------------------------------------------------------------------- */

Test(job_money, ties_of_tax) {
    static const struct {
        const char *currency, *price, *percent, *even, *up;
    } rows[] = {
        {"JPY", "5", "10", "0", "1"},  /* 0.5 */
        {"JPY", "15", "10", "2", "2"}, /* 1.5 */
        {"JPY", "25", "10", "2", "3"}, /* 2.5 */
        {"JPY", "1005", "10", "100", "101"},
        {"EUR", "1.25", "10", "0.12", "0.13"}, /* 0.125 */
        {"EUR", "10.05", "10", "1.00", "1.01"},
        {"EUR", "1.35", "10", "0.14", "0.14"},
        {"EUR", "26.75", "10", "2.68", "2.68"},
        {"EUR", "100.75", "10", "10.08", "10.08"},
        {"USD", "19.99", "8.25", "1.65", "1.65"},  /* 1.649175: no tie */
        {"EUR", "2.30", "7.5", "0.17", "0.17"},    /* 0.1725: no tie at two digits */
        {"KWD", "2.300", "7.5", "0.172", "0.173"}, /* but at three */
        {"KWD", "12.345", "10", "1.234", "1.235"},
    };
    static const char *const pers[] = {"line", "invoice"};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (size_t k = 0; k < COUNT(pers); k++)
            for (int even = 0; even <= 1; even++) {
                job is = {rows[i].currency,
                          rows[i].price,
                          1,
                          rows[i].percent,
                          even ? "half-even" : "half-up",
                          pers[k],
                          "9000"};
                bill was = billed(&is);
                const char *tax = even ? rows[i].even : rows[i].up;
                cr_expect_str_eq(was.tax, tax, "%s %s at %s %%, %s: %s, not %s (%s)", is.currency,
                                 is.price, is.percent, is.round, was.tax, tax, was.complaint);
            }
}

/* Three lines of 10.30 at 7.5 %: each rounded 0.77, together 2.32. Which is lawful depends
 * on the place; the rule is common practice, no source. */
Test(job_money, per_line_and_per_invoice) {
    static const char *const rounds[] = {"half-even", "half-up"};
    for (size_t i = 0; i < COUNT(rounds); i++) {
        job is = {"EUR", "10.30", 3, "7.5", rounds[i], "line", "100.00"};
        bill lines = billed(&is);
        cr_expect_str_eq(lines.parts, "30.90", "%s", lines.parts);
        cr_expect_str_eq(lines.tax, "2.31", "%s: %s", rounds[i], lines.tax);
        cr_expect_str_eq(lines.total, "33.21", "%s: %s", rounds[i], lines.total);
        is.per = "invoice";
        bill invoice = billed(&is);
        cr_expect_str_eq(invoice.tax, "2.32", "%s: %s", rounds[i], invoice.tax);
        cr_expect_str_eq(invoice.total, "33.22", "%s: %s", rounds[i], invoice.total);
        /* To the last minor unit: what a budget pays for, and what it just does not. */
        is.budget = "33.22";
        cr_expect_str_eq(billed(&is).total, "33.22");
        is.budget = "33.21";
        cr_expect_str_eq(billed(&is).total, "", "a minor unit short");
    }
}

/* Doubles are exact up to 2^53 (IEEE 754): 9007199254740993 would be read as ...992. Money is
 * refused long before, and so is such a number. */
Test(job_money, beyond_exact_doubles) {
    static const char *const budgets[] = {"9007199254740993", "90071992547409.93", "10000000.01",
                                          "1e3"};
    for (size_t i = 0; i < COUNT(budgets); i++) {
        job is = {"EUR", "7", 1, "0", "half-up", "line", budgets[i]};
        cr_expect_eq(billed(&is).status, SW_BAD_DATA, "%s", budgets[i]);
    }
    job largest = {"EUR", "7", 1, "0", "half-up", "line", "10000000.00"};
    cr_expect_eq(billed(&largest).status, SW_OK);
    job percent = {"EUR", "7", 1, "9007199254740993", "half-up", "line", "100"};
    cr_expect_eq(billed(&percent).status, SW_BAD_DATA);
}
