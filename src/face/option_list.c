/* The options. */
#include "face/guide.h"

#include <string.h>

#define TEXT(field) .text = offsetof(sw_words, field)
#define LIST(field) .list = offsetof(sw_words, field)
#define FLAG(field) .flag = offsetof(sw_words, field)
#define NUMBER(field, low, high) .number = offsetof(sw_words, field), .least = (low), .most = (high)

/* Commands that many options share. */
#define SOLVE                                                                                      \
    "plan,curve,options,shopping,bench,handover,fits,why,whatif,first,phases,ranges,sure,ask-"     \
    "next,"
#define SOLVE_ALL SOLVE "map"
#define ANSWER SOLVE_ALL ",look,explain,check,export"

static const sw_option options[] = {
    {"--catalog", "DIR", ANSWER ",intake dumps,intake piece,intake prices,intake ask,desk",
     "use this catalog, not the one that the scenario names (where none is named: the folder "
     "catalog, or the one that was installed with the program)",
     TEXT(catalog)},
    {"--budget", "M",
     "plan,options,shopping,bench,handover,why,first,ranges,sure,ask-next,map,look,explain,export",
     "spend at most M in all, not what the scenario says", TEXT(budget)},
    {"--best", "K", "plan", "the K best bundles (1 to 64), ranked", NUMBER(best, 1, SW_BEST_MOST)},
    {"--apart", "D", "plan",
     "each listed bundle unlike those before it in the parts of D roles or more",
     NUMBER(apart, 1, SW_BEST_MOST)},
    {"--brief", NULL, "plan",
     "the bundles alone, soon: not what each swap is worth, the verdict, nor what other sums bring",
     FLAG(brief)},
    {"--from", "M", "curve", "only the steps that cost M or more", TEXT(from)},
    {"--to", "M", "curve", "only the steps that cost M or less", TEXT(to)},
    {"--over", "PART", "why", "compare with this part", TEXT(over)},
    {"--set", "PATH=VALUE", "whatif,shopping,intake piece",
     "put VALUE at PATH of the scenario (intake piece: FACT=VALUE of the pieces that are named, or "
     "PART:FACT=VALUE); may stand many times",
     LIST(settings)},
    {"--own", NULL, "intake piece", "a name that the catalog does not have is a piece of its own",
     FLAG(own)},
    {"--card", "FILE", "intake dumps",
     "what is private, for the job card; readable by its owner alone", TEXT(card)},
    {"--date", "D", "intake dumps", "the day of the job (2026-03-02), not today", TEXT(date)},
    {"--profile", "P", "intake prices", "how the list is written: catalog/profiles", TEXT(profile)},
    {"--confirm", "FILE", "intake prices", "rows that a person has confirmed", TEXT(confirm)},
    {"--ask", NULL, "intake prices",
     "ask row by row on the terminal, and keep the answers in the file of --confirm", FLAG(ask)},
    {"--whole", NULL, "intake prices",
     "the list is whole, although it takes away over a third of what the seller lists",
     FLAG(whole)},
    {"--parts", "FILE", "intake prices", "write rows that were confirmed as new there, as parts",
     TEXT(parts)},
    {"--title", "TEXT", "intake ask", "what heads every paper", TEXT(title)},
    {"--answers", "FILE", "intake ask", "take the answers from there, not from a terminal",
     TEXT(answers)},
    {"--keep-answers", "FILE", "intake ask", "write the answers that counted there",
     TEXT(keep_answers)},
    {"--option", "N", "shopping,bench,handover",
     "the option that was signed, as options counts them; may be left out where there is one",
     NUMBER(option, 1, 3)},
    {"--gone", "PART[@SELLER]", "shopping",
     "this is no longer there (without a seller: nobody has it); may stand many times", LIST(gone)},
    {"--take", "same|least|anew", "shopping", "go on by this way", TEXT(take)},
    {"--measured", "FILE", "handover", "what was measured before and after", TEXT(measured)},
    {"--record", "FILE", "handover", "keep what was foretold and measured in the shop's own file",
     TEXT(record)},
    {"--calibration", "FILE", "plan,curve,options,bench,handover",
     "correct what is foretold by what the shop's own file says", TEXT(calibration)},
    {"--options", NULL, "sure",
     "the regret of the three options, and where each stays the best for its money", FLAG(options)},
    {"--prices", "P", "sure", "how far prices may be off, in percent (0 to 50; 5)",
     NUMBER(prices, 0, 50)},
    {"--estimates", "P", "sure", "how far estimates may be off, in percent (0 to 50; 10)",
     NUMBER(estimates, 0, 50)},
    {"--seconds", "N", SOLVE_ALL ",desk",
     "stop after N seconds (60) with the best found so far; desk: each question",
     NUMBER(seconds, 1, 86400)},
    {"--port", "N", "desk", "the port of 127.0.0.1 (0 to 65535; 0: one that is free)",
     NUMBER(port, 0, 65535)},
    {"--lp", NULL, "export", "in the LP form", FLAG(lp)},
    {"--mps", NULL, "export", "in the free MPS form", FLAG(mps)},
    {"--allow-unknown", NULL, SOLVE_ALL ",look,explain,export",
     "let parts in although a fact of theirs is unknown, with a caution", FLAG(allow_unknown)},
    {"--json", NULL, ANSWER ",intake dumps,intake prices", "print JSON, not text", FLAG(json)},
    {"--csv", NULL, "curve,shopping", "print CSV (RFC 4180), not text", FLAG(csv)},
    {"--svg", "FILE", "curve,map", "draw it as well, into this file", TEXT(svg)},
    {"--verify", NULL, "plan,curve", "have the linear solver (GLPK) prove every bundle again",
     FLAG(verify)},
    {"--progress", NULL, SOLVE_ALL, "tell on standard error how far it is, every 2 s",
     FLAG(progress)},
    {"-o", "FILE", ANSWER ",intake dumps,intake piece,intake prices,intake ask",
     "write there (whole or not at all), not to standard output; options, bench, handover: "
     "FILE.html gets the page, and standard output the rest",
     TEXT(output)},
};

const sw_option *sw_options_known(size_t *count) {
    *count = sizeof options / sizeof *options;
    return options;
}

bool sw_option_is_of(const sw_option *option, const char *command) {
    size_t length = strlen(command);
    for (const char *at = option->of; at != NULL; at = strchr(at, ',')) {
        at += *at == ',';
        if (strncmp(at, command, length) == 0 && (at[length] == ',' || at[length] == '\0'))
            return true;
    }
    return false;
}
