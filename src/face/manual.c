/* The pages of the manual, in man(7). */
#include "face/guide.h"
#include "base/letters.h"

#include <string.h>

/* A minus that stays one, and no letter that troff would take for its own. */
static void put(FILE *to, const char *text) {
    if (*text == '.' || *text == '\'')
        fputs("\\&", to);
    for (; *text != '\0'; text++) {
        if (*text == '-')
            fputs("\\-", to);
        else if (*text == '\\')
            fputs("\\e", to);
        else
            fputc(*text, to);
    }
}

/* In capitals where `upper`, a minus in place of each blank. */
static void put_page_name(FILE *to, const char *name, bool upper) {
    fputs(upper ? "SWAPWORTH" : "swapworth", to);
    for (const char *at = name; at != NULL && *at != '\0'; at++) {
        if (at == name)
            fputs("\\-", to);
        if (*at == ' ' || *at == '-')
            fputs("\\-", to);
        else
            fputc(upper ? sw_capital_letter(*at) : *at, to);
    }
}

static void put_head(FILE *to, const char *name, const char *tells) {
    fputs(".TH ", to);
    put_page_name(to, name, true);
    fputs(" 1 " SW_VERSION_DATE " \"swapworth " SW_VERSION "\" \"swapworth\"\n.SH NAME\n", to);
    put_page_name(to, name, false);
    fputs(" \\- ", to);
    put(to, tells);
    fputs("\n.SH SYNOPSIS\n", to);
}

/* "plan,curve" as "plan, curve:" on a line of its own. */
static void put_commands(FILE *to, const char *of) {
    for (; *of != '\0'; of++) {
        if (*of == '-')
            fputc('\\', to);
        fputc(*of, to);
        if (*of == ',')
            fputc(' ', to);
    }
    fputs(":\n", to);
}

static void put_option(FILE *to, const sw_option *option, bool with_commands) {
    fputs(".TP\n.B ", to);
    put(to, option->name);
    if (option->takes != NULL) {
        fputs(" \\fI", to);
        put(to, option->takes);
        fputs("\\fR", to);
    }
    fputc('\n', to);
    if (with_commands) {
        put_commands(to, option->of);
    }
    put(to, option->tells);
    fputs(".\n", to);
}

static void put_exit_status(FILE *to) {
    size_t count;
    const sw_exit_code *codes = sw_exit_codes(&count);
    fputs(".SH EXIT STATUS\n", to);
    for (size_t i = 0; i < count; i++) {
        fprintf(to, ".TP\n.B %d\n", codes[i].code);
        put(to, codes[i].means);
        fputs(".\n", to);
    }
}

static const char cautions[] =
    ".SH CAUTIONS\nThe program plans; it does not replace judgement. Mains off and unplugged "
    "before "
    "a case is\nopened; a power unit is never opened. Makers' instructions, local codes and "
    "licensed practice\ncome first.\n";

static void put_see_also(FILE *to, const sw_command *but) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    fputs(".SH SEE ALSO\n", to);
    if (but != NULL)
        fputs(".BR swapworth (1),\n", to);
    for (size_t i = 0; but == NULL && i < count; i++) {
        fputs(".BR ", to);
        put_page_name(to, commands[i].name, false);
        fputs(" (1),\n", to);
    }
    fputs(".BR swapworth\\-formats (5)\n", to);
}

static void put_environment(FILE *to) {
    fputs(".SH ENVIRONMENT\n"
          ".TP\n.B NO_COLOR\nIf it holds anything, headings are not in bold.\n"
          ".TP\n.B TERM\n\"dumb\": plain text.\n"
          ".TP\n.BR LC_ALL ,\\~ LC_CTYPE ,\\~ LANG\n"
          "Where they say UTF\\-8 a terminal gets the curve in finer letters.\n"
          ".SH FILES\n.TP\n.I ../share/swapworth/catalog\n"
          "Seen from the folder of the program: the catalog where no scenario or option names one "
          "and\nthe working folder has no catalog.\n"
          ".TP\n.I ../share/swapworth/scenarios\nInvented jobs to try.\n",
          to);
}

static void put_program(FILE *to) {
    size_t count;
    const sw_command *commands = sw_commands_known(&count);
    put_head(to, NULL, "which swaps in a desktop computer are worth their money");
    fputs(".B swapworth\n.I COMMAND SCENARIO\n.RI [ OPTION ...]\n.br\n"
          ".B swapworth help\n.RI [ COMMAND ]\n.br\n.B swapworth \\-\\-version\n",
          to);
    fputs(".SH DESCRIPTION\nReads a machine as it stands, a client's wishes and the parts that can "
          "be had, and answers with\nthe best bundle of swaps under the budget and the rules of "
          "what goes with what.\nA scenario \\(dq\\-\\(dq is standard input.\nAnswers go to "
          "standard output, everything else to standard error.\n.SH COMMANDS\n",
          to);
    for (size_t i = 0; i < count; i++) {
        fputs(".TP\n.B ", to);
        put(to, commands[i].name);
        fputs(" \\fI", to);
        put(to, commands[i].synopsis);
        fputs("\\fR\n", to);
        put(to, commands[i].tells);
        fputs(".\n", to);
    }
    fputs(".SH OPTIONS\n", to);
    const sw_option *options = sw_options_known(&count);
    for (size_t i = 0; i < count; i++)
        put_option(to, &options[i], true);
    put_exit_status(to);
    put_environment(to);
    fputs(cautions, to);
    put_see_also(to, NULL);
}

static void put_command(FILE *to, const sw_command *command) {
    size_t count, own = 0;
    const sw_option *options = sw_options_known(&count);
    put_head(to, command->name, command->tells);
    fputs(".B swapworth ", to);
    put(to, command->name);
    fputs("\n.I ", to);
    put(to, command->synopsis);
    fputs("\n.RI [ OPTION ...]\n.SH DESCRIPTION\n", to);
    put(to, command->more);
    fputc('\n', to);
    for (size_t i = 0; i < count; i++) {
        if (!sw_option_is_of(&options[i], command->name))
            continue;
        if (own++ == 0)
            fputs(".SH OPTIONS\n", to);
        put_option(to, &options[i], false);
    }
    put_exit_status(to);
    fputs(".SH EXAMPLES\n.EX\nswapworth ", to);
    put(to, command->name);
    fputc(' ', to);
    put(to, command->example);
    fputs("\n.EE\n", to);
    fputs(cautions, to);
    put_see_also(to, command);
}

void sw_print_manual(FILE *to, const sw_command *command) {
    if (command == NULL)
        put_program(to);
    else
        put_command(to, command);
}
