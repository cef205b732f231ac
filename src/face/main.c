/* The command line: reads the words, runs one command, prints its answer on
 * standard output and everything else on standard error. */
#include "face/commands.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

typedef struct command {
    const char *name;
    int (*run)(const sw_words *words);
    const char *usage;
} command;

static const command commands[] = {
    {"plan", sw_command_plan,
     "plan SCENARIO [--best K] [--apart D]  the best bundles for the money, and what each\n"
     "               [--brief]               part of the first is worth"},
    {"curve", sw_command_curve,
     "curve SCENARIO [--from M] [--to M]    best points against money, step by step"},
    {"options", sw_command_options,
     "options SCENARIO [-o FILE.html]       three priced options for the client; as a page that\n"
     "                                        the client signs"},
    {"shopping", sw_command_shopping,
     "shopping SCENARIO --option N          what to order where for the option that was signed;\n"
     "                                        --gone and --set: how to go on when it changed"},
    {"bench", sw_command_bench,
     "bench SCENARIO --option N             the work order of an option, and what is measured\n"
     "                                        when it is done; as text, JSON or a page (-o)"},
    {"handover", sw_command_handover,
     "handover SCENARIO --measured FILE     foretold against measured, for the client; --record\n"
     "                                        FILE keeps it for the jobs to come"},
    {"look", sw_command_look,
     "look SCENARIO                         what limits, is loud, near its limit, set wrongly or\n"
     "                                        worn in the machine as it stands, and its repair"},
    {"explain", sw_command_explain,
     "explain SCENARIO [PART]               how each number came about, formula by formula"},
    {"fits", sw_command_fits,
     "fits SCENARIO [PART...]               may these parts go with what stays: every rule, with\n"
     "                                        its numbers, and where each thing stands"},
    {"why", sw_command_why,
     "why SCENARIO PART [--over OTHER]      why the part is in the best bundle, or is not, and\n"
     "                                        at which prices and weights it would be"},
    {"whatif", sw_command_whatif,
     "whatif SCENARIO --set PATH=VALUE...   the best bundle beside the one of a changed job;\n"
     "                                        many values (A:B:STEP or V,V,..) sweep one thing"},
    {"first", sw_command_first,
     "first SCENARIO                        what to buy first, so that each purchase works and\n"
     "                                        most comes soonest"},
    {"phases", sw_command_phases,
     "phases SCENARIO                       what to buy when, where the money comes in phases"},
    {"ranges", sw_command_ranges,
     "ranges SCENARIO [PART...]             over which budgets, prices and weights the best\n"
     "                                        bundle stays best"},
    {"sure", sw_command_sure,
     "sure SCENARIO                         what to buy whatever the client prefers, what to ask\n"
     "                                        about, what to leave alone"},
    {"ask-next", sw_command_next,
     "ask-next SCENARIO                     which question about what counts is worth most to\n"
     "                                        be asked next, and what would be bought by it"},
    {"map", sw_command_map,
     "map SCENARIO [--svg FILE]             which bundle is best, whichever way the client\n"
     "                                        weighs speed, quiet and looks; as a picture\n"
     "                                        (--svg)"},
    {"check", sw_command_check,
     "check FILE...                         complaints about scenarios and catalogs"},
    {"export", sw_command_export,
     "export SCENARIO --lp | --mps          the integer program, for any solver"},
    {"intake", sw_command_intake,
     "intake dumps FILE|FOLDER...           the draft of a job from what the machine says of "
     "itself\n"
     "  swapworth intake piece SCENARIO ROLE PART...    say anew what a role of the machine holds\n"
     "  swapworth intake prices FILE --profile P        a supplier's price list becomes listings\n"
     "  swapworth intake ask SCENARIO                   the interview: the client's wishes and "
     "money"},
    {"desk", sw_command_desk,
     "desk [SCENARIO] [--port N]            the job as a page in the browser of this machine,\n"
     "                                        with the client beside you"},
};

static void print_help(FILE *to) {
    fputs("swapworth: which swaps in a desktop computer are worth their money\n\n", to);
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
        fprintf(to, "  swapworth %s\n", commands[i].usage);
    fputs(
        "\nOptions of every command that reads a scenario (\"-\" is standard input):\n"
        "  --catalog DIR      use this catalog, not the one the scenario names\n"
        "  --budget M         spend at most M in all, not what the scenario says\n"
        "  --best K           plan: the K best bundles, ranked\n"
        "  --apart D          plan: each unlike those before it in D roles or more\n"
        "  --brief            plan: the bundles alone, soon; not what each swap is worth\n"
        "  --from M, --to M   curve: only the steps between two costs\n"
        "  --set PATH=VALUE   whatif, shopping: put VALUE at PATH of the scenario; may stand\n"
        "                     many times\n"
        "  --option N         shopping, bench, handover: the option that was signed, as options\n"
        "                     counts them; may be left out where there is one\n"
        "  --gone PART[@SELLER]  shopping: this is no longer there (without a seller: nobody\n"
        "                     has it); may stand many times\n"
        "  --take WAY         shopping: go on by this way: same, least or anew\n"
        "  --prices P, --estimates P  sure: how far, in percent, prices and estimates may be off\n"
        "  --seconds N        stop after N seconds (default 60) with the best so far\n"
        "  --port N           desk: the port of 127.0.0.1 (default: one that is free)\n"
        "  --allow-unknown    let parts in although a fact is unknown, with a caution\n"
        "  --json             print JSON, not text\n"
        "  --csv              curve, shopping: print CSV\n"
        "  --svg FILE         curve, map: draw it as well, into this file\n"
        "  --verify           plan, curve: prove every bundle again by the linear solver\n"
        "  --progress         where solving takes time: tell on standard error how far it is\n"
        "  -o FILE            write there, not to standard output; options: FILE.html gets the\n"
        "                     page, and standard output the rest\n"
        "\nExit codes: 0 answered, 1 nothing fits, 2 stopped early, 64 usage, 65 bad data,\n"
        "66 cannot read, 70 internal, 73 cannot create the output, 74 cannot write it.\n",
        to);
}

/* "swapworth help", or --help or -h before any "--". */
static bool asks_for_help(int argc, char **argv) {
    if (argc >= 2 && strcmp(argv[1], "help") == 0)
        return true;
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++)
        if (strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "-h") == 0)
            return true;
    return false;
}

static int end_of_output(void) {
    if (sw_close_output(stdout))
        return SW_EXIT_ANSWERED;
    fprintf(stderr, "swapworth: cannot write to standard output: %s.\n", strerror(errno));
    return SW_EXIT_CANNOT_WRITE;
}

int sw_run_line(int argc, char **argv) {
    if (asks_for_help(argc, argv)) {
        print_help(stdout);
        return end_of_output();
    }
    if (argc >= 2 && strcmp(argv[1], "--version") == 0) {
        puts("swapworth " SW_VERSION);
        return end_of_output();
    }
    for (size_t i = 0; argc >= 2 && i < sizeof commands / sizeof *commands; i++) {
        sw_words words;
        if (strcmp(argv[1], commands[i].name) != 0)
            continue;
        int code = sw_words_read(&words, argc - 2, argv + 2, commands[i].usage);
        if (code == SW_EXIT_ANSWERED)
            code = commands[i].run(&words);
        sw_words_free(&words);
        return code;
    }
    if (argc >= 2)
        fprintf(stderr, "swapworth: there is no command \"%s\".\n\n", argv[1]);
    print_help(stderr);
    return SW_EXIT_USAGE;
}

/* A file that is opened while a standard one is closed would get its number, and with it what is
 * meant for the standard one: in its place stands what can neither be read nor written. */
static void hold_standard_files(void) {
    for (int file = STDIN_FILENO; file <= STDERR_FILENO; file++)
        if (fcntl(file, F_GETFD) < 0 && errno == EBADF)
            open("/dev/null", file == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

int main(int argc, char **argv) {
    hold_standard_files();
    return sw_run_line(argc, argv);
}
