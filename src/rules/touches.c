/* Which fit-outs touch which rules: what is new there, or changed by a task, cannot be
 * said to run together today. */
#include "rules/stage.h"

static bool expr_reads(const sw_fitouts *fitouts, const sw_expr *expr, int fact) {
    if (expr->op == SW_EXPR_FACT || expr->op == SW_EXPR_PICK) {
        const sw_fact *read = &fitouts->catalog->facts[expr->fact];
        /* Derived facts read only those listed before them, so this ends. */
        return expr->fact == fact || (read->is != NULL && expr_reads(fitouts, read->is, fact));
    }
    for (size_t i = 0; i < expr->count; i++)
        if (expr_reads(fitouts, &expr->operands[i], fact))
            return true;
    return false;
}

/* Does the rule read the fact on this role, straight or through derived facts? */
static bool depends_on(const sw_fitouts *fitouts, const sw_rule *rule, int role, int fact) {
    if (sw_rule_reads_fact(fitouts, rule, role, fact))
        return true;
    for (size_t d = 0; d < fitouts->catalog->fact_count; d++) {
        const sw_fact *derived = &fitouts->catalog->facts[d];
        if (derived->derived_role == role && sw_rule_reads_fact(fitouts, rule, role, (int)d) &&
            expr_reads(fitouts, derived->is, fact))
            return true;
    }
    return false;
}

static bool names_task(const sw_rule *rule, int task) {
    for (size_t i = 0; i < rule->cond_count; i++)
        if (rule->conds[i].op == SW_COND_TASK && rule->conds[i].index == task)
            return true;
    return false;
}

static sw_status touching_tasks(bool **out, const sw_rulebook *book, const sw_rule *rule) {
    const sw_catalog *catalog = book->fitouts->catalog;
    bool *touching = SW_NEW(book->arena, bool, catalog->task_count);
    if (touching == NULL)
        return SW_NO_MEMORY;
    for (size_t t = 0; t < catalog->task_count; t++) {
        const sw_task *task = &catalog->tasks[t];
        touching[t] = names_task(rule, (int)t);
        for (size_t e = 0; e < task->effect_count && !touching[t]; e++)
            touching[t] = depends_on(book->fitouts, rule, task->role, task->effects[e].fact);
    }
    *out = touching;
    return SW_OK;
}

static sw_status make_one(sw_rulebook *book, size_t rule) {
    const sw_fitouts *fitouts = book->fitouts;
    bool *tasks, *touches = SW_NEW(book->arena, bool, fitouts->fitout_count);
    sw_status status = touching_tasks(&tasks, book, &book->rules[rule]);
    if (touches == NULL || status != SW_OK)
        return SW_NO_MEMORY;
    for (size_t f = 0; f < fitouts->fitout_count; f++) {
        const sw_fitout *fitout = &fitouts->fitouts[f];
        bool touch = fitout->adds;
        for (int t = 0; t < fitout->task_count && !touch; t++)
            touch = tasks[fitout->tasks[t]];
        touches[f] = touch && sw_rule_reads(fitouts, &book->rules[rule], fitout->role);
    }
    book->touches[rule] = touches;
    return SW_OK;
}

sw_status sw_touches_make(sw_rulebook *book) {
    book->touches = SW_NEW(book->arena, bool *, book->count);
    sw_status status = book->touches == NULL ? SW_NO_MEMORY : SW_OK;
    for (size_t i = 0; i < book->count && status == SW_OK; i++)
        status = make_one(book, i);
    return status;
}
