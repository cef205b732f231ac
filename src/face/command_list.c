/* The commands. */
#include "face/guide.h"

#include <string.h>

static const sw_command commands[] = {
    {"plan", sw_command_plan, "SCENARIO",
     "the best bundles for the money, and what their swaps are worth",
     "Answers with the best bundle of swaps under the budget and the rules: what goes out and what "
     "comes in, from whom, at what price, what each group of swaps is worth by itself, what the "
     "last money bought and the next would buy, and whether money is better kept. No other bundle "
     "is better: that is proved.",
     "attic-desk.json --best 4 --apart 2"},
    {"curve", sw_command_curve, "SCENARIO", "best points against money, step by step",
     "The whole staircase of best points against money, each step proved, and what a point costs "
     "along the straight lines over it.",
     "camera-room.json --to 400.00 --svg curve.svg"},
    {"options", sw_command_options, "SCENARIO",
     "three priced options for the client; as a page that is signed",
     "The cheapest option that ends the main complaint, the middle way where the curve bends, and "
     "the best for all the money, side by side. With -o FILE.html as a page to print and sign.",
     "attic-desk.json -o proposal.html"},
    {"shopping", sw_command_shopping, "SCENARIO",
     "what to order where for the option that was signed",
     "An order for each seller, with delivery, warranty and the last day to give each part back. "
     "With --gone and --set: how to go on when a listing is gone or a price has moved.",
     "attic-desk.json --option 3 --csv"},
    {"bench", sw_command_bench, "SCENARIO",
     "the work order of an option, and what is measured at its end",
     "What is done before the case is opened, each step of the work in its order, and the checks "
     "at the end with the band foretold of each; as text, JSON or (-o FILE.html) a page.",
     "attic-desk.json --option 3 -o work-order.html"},
    {"handover", sw_command_handover, "SCENARIO --measured FILE",
     "foretold against measured, for the client and for jobs to come",
     "Holds what was measured against what was foretold. A check that failed forbids the hand-over "
     "in its first line. Takes --measured.",
     "good-enough.json --option 1 --measured measured.json -o hand-over.html"},
    {"look", sw_command_look, "SCENARIO", "what is wrong with the machine as it stands",
     "What limits, is loud, near its limit, set wrongly or worn, with its evidence in numbers and "
     "its repair. A draft without wishes will do.",
     "attic-desk.json"},
    {"explain", sw_command_explain, "SCENARIO [PART]", "how each number came about",
     "Formula by formula, with inputs and sources. With a part: what changes when it is put into "
     "the machine.",
     "attic-desk.json tern-valley-v5-60"},
    {"fits", sw_command_fits, "SCENARIO [PART...]", "may these parts go with what stays",
     "Every rule with its numbers and the clearance that is left, what must come out to make room, "
     "and where each thing stands. Money and wishes play no part.",
     "attic-desk.json tern-valley-v6-90"},
    {"why", sw_command_why, "SCENARIO PART", "why a part is in the best bundle, or is not",
     "Where the part stands, and at which prices and weights it would be in the best bundle.",
     "camera-room.json tern-valley-v5-60"},
    {"whatif", sw_command_whatif, "SCENARIO --set PATH=VALUE...",
     "the best bundle beside the one of a changed job",
     "Takes at least one --set. Many values (300:900:50, or 300,450,600) sweep one thing, a line "
     "for each.",
     "good-enough.json --set budget.total=700"},
    {"first", sw_command_first, "SCENARIO", "what to buy first",
     "The order of purchases in which the machine works after each and most comes soonest for the "
     "money spent.",
     "recording-desk.json"},
    {"phases", sw_command_phases, "SCENARIO", "what to buy when, where the money comes in phases",
     "What to buy now that stays right later, and what then; the sums and their days stand in the "
     "scenario.",
     "saver-box.json"},
    {"ranges", sw_command_ranges, "SCENARIO [PART...]",
     "over which budgets, prices and weights the best stays best",
     "How far each may move before another bundle is better. Name a part to ask for its price "
     "too.",
     "good-enough.json"},
    {"sure", sw_command_sure, "SCENARIO",
     "what to buy whatever the client prefers, what to ask about",
     "All bundles of which no other is at least as good at all weights that may be right, what "
     "they have in common, and the one that is least to be regretted.",
     "good-enough.json --options"},
    {"ask-next", sw_command_next, "SCENARIO",
     "which question about the weights is worth most to be asked",
     "The question in words, what would be bought after each answer, and how many points knowing "
     "it brings; or that no answer changes enough.",
     "good-enough.json"},
    {"map", sw_command_map, "SCENARIO", "which bundle is best whichever way the client weighs",
     "How large a part of all weightings of speed, quiet and looks each bundle has, and where the "
     "client's answer lies; as a picture with --svg.",
     "saver-box.json --svg map.svg"},
    {"intake", sw_command_intake, "dumps|piece|prices|ask ...",
     "what comes in: dumps, pieces, price lists, the interview",
     "Each kind is a command of its own.", "dumps first-look -o job.json"},
    {"intake dumps", NULL, "FILE|FOLDER...", "the draft of a job from what the machine says",
     "Reads what dmidecode, lscpu -J, lsblk -J, lspci -mm, lshw -json, sensors -j, nvme list, "
     "smartctl -j and the display's EDID said. Serial numbers and names go to the job card or "
     "nowhere. With -o the draft is written; what is still to be asked is told.",
     "first-look -o job.json --card card.json"},
    {"intake piece", NULL, "SCENARIO ROLE PART...", "say anew what a role of the machine holds",
     "A part by its id, its maker's number or its name; \"none\": the role is empty.",
     "job.json power fenwright-even-450 --set age_years=5 -o job.json"},
    {"intake prices", NULL, "FILE --profile P", "a supplier's price list becomes listings",
     "Which rows were read, which wait for a person, what is new, gone, dearer and cheaper. "
     "Nothing is guessed, and nothing is written without -o.",
     "week.csv --profile millrace-week -o listings.csv"},
    {"intake ask", NULL, "SCENARIO", "the interview: the client's wishes and money",
     "Question by question from a draft to a whole job, with the client beside it. An empty line "
     "skips a question, back goes to the one before, ? tells why it is asked, quit writes nothing.",
     "job.json --title \"The desk under the roof\""},
    {"desk", sw_command_desk, "[SCENARIO]", "the job as a page in the browser of this machine",
     "Prints one address, for this machine and who was given it alone. Ctrl-C ends it.",
     "attic-desk.json"},
    {"check", sw_command_check, "FILE...", "complaints about scenarios and catalogs",
     "Scenarios, files of what was measured or learnt, and catalogs (folders). Each complaint says "
     "where, what, why and how to mend it.",
     "attic-desk.json"},
    {"export", sw_command_export, "SCENARIO --lp|--mps", "the integer program, for any solver",
     "Takes either --lp or --mps.", "attic-desk.json --lp -o job.lp"},
};

static const sw_exit_code exit_codes[] = {
    {SW_EXIT_ANSWERED, "answered"},
    {SW_EXIT_NOTHING_FITS, "nothing fits; fits: refused, or not known"},
    {SW_EXIT_STOPPED_EARLY, "stopped early: best so far, bound and gap are shown"},
    {SW_EXIT_USAGE, "the command line could not be understood"},
    {SW_EXIT_BAD_DATA, "the data is wrong"},
    {SW_EXIT_CANNOT_READ, "a file could not be read"},
    {SW_EXIT_INTERNAL, "a fault of the program, or no memory"},
    {SW_EXIT_CANNOT_CREATE, "the output could not be created; desk: no port"},
    {SW_EXIT_CANNOT_WRITE, "the output could not be written"},
};

const sw_command *sw_commands_known(size_t *count) {
    *count = sizeof commands / sizeof *commands;
    return commands;
}

const sw_command *sw_command_named(const char *name) {
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
        if (strcmp(commands[i].name, name) == 0)
            return &commands[i];
    return NULL;
}

const sw_exit_code *sw_exit_codes(size_t *count) {
    *count = sizeof exit_codes / sizeof *exit_codes;
    return exit_codes;
}
