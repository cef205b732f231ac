/* What the files of this folder share among themselves. */
#ifndef SW_RULES_STAGE_H
#define SW_RULES_STAGE_H

#include "rules/rules.h"

void sw_judge_tokens(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                     sw_judgement *out);
void sw_judge_within(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                     sw_judgement *out);
void sw_judge_supply(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                     sw_judgement *out);
void sw_judge_clash(const sw_fitouts *fitouts, const sw_rule *rule, const int *machine,
                    sw_judgement *out);
sw_status sw_judge_place(const sw_rulebook *book, int rule, const int *machine, sw_judgement *out);

/* Fills `touches`. */
sw_status sw_touches_make(sw_rulebook *book);

/* Fills `spare` from the present machine; it starts at 0 everywhere. */
sw_status sw_spare_make(sw_rulebook *book);

/* The truth of a condition on a machine. */
sw_truth sw_on_machine(const sw_fitouts *fitouts, const sw_cond *cond, const int *machine);

#endif
