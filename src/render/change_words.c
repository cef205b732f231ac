/* A change of the job in words. */
#include "render/change_words.h"

#include <string.h>

static bool begins(const char *text, const char *head) {
    return strncmp(text, head, strlen(head)) == 0;
}

static bool ends(const char *text, const char *tail) {
    size_t length = strlen(text), most = strlen(tail);
    return length >= most && strcmp(text + length - most, tail) == 0;
}

static bool says_yes(const char *value) {
    return strcmp(value, "yes") == 0 || strcmp(value, "true") == 0;
}

/* "there are 700 EUR in all"; NULL: there are no words of its own for it. */
static const char *of_money(sw_sheet *s, const sw_whatif_change *c, const char *value) {
    const char *currency = s->answer->currency;
    const char *at = c->seller == NULL ? "" : SW_FORMAT(s, " at %s", c->seller);
    if (strcmp(c->path, "budget.total") == 0)
        return SW_FORMAT(s, "there are %s %s in all", value, currency);
    if (strcmp(c->path, "budget.reserve") == 0)
        return SW_FORMAT(s, "%s %s are kept in reserve", value, currency);
    if (c->subject == NULL || !begins(c->path, "quotes."))
        return NULL;
    if (ends(c->path, ".price"))
        return SW_FORMAT(s, "%s costs %s %s%s", c->subject, value, currency, at);
    if (ends(c->path, ".stock") && strcmp(value, "0") == 0)
        return SW_FORMAT(s, "%s is sold out%s", c->subject, at);
    if (ends(c->path, ".stock"))
        return SW_FORMAT(s, "%s of %s are to be had%s", value, c->subject, at);
    return ends(c->path, ".days")
               ? SW_FORMAT(s, "%s takes %s day%s to leave the seller%s", c->subject, value,
                           strcmp(value, "1") == 0 ? "" : "s", at)
               : NULL;
}

static const char *of_limit(sw_sheet *s, const sw_whatif_change *c, const char *value) {
    bool none = strcmp(value, "null") == 0;
    if (strcmp(c->path, "wishes.limits.loudness_sone") == 0)
        return none ? "it may be as loud as it likes"
                    : SW_FORMAT(s, "it may be no louder than %s sone", value);
    if (strcmp(c->path, "wishes.limits.days") == 0)
        return none ? "it may take its time"
                    : SW_FORMAT(s, "everything must be here within %s day%s", value,
                                strcmp(value, "1") == 0 ? "" : "s");
    if (strcmp(c->path, "wishes.limits.bench_minutes") == 0)
        return none ? "the work may take as long as it takes"
                    : SW_FORMAT(s, "the work may take %s minutes", value);
    return NULL;
}

static const char *of_wish(sw_sheet *s, const sw_whatif_change *c, const char *value) {
    bool yes = says_yes(value);
    if (c->subject == NULL)
        return NULL;
    if (begins(c->path, "wishes.swings."))
        return SW_FORMAT(s, "%s weighs %s", c->subject, value);
    if (begins(c->path, "wishes.keep."))
        return SW_FORMAT(s, "%s %s", c->subject, yes ? "must stay" : "need not stay");
    if (begins(c->path, "wishes.replace."))
        return SW_FORMAT(s, "%s %s", c->subject, yes ? "must go" : "need not go");
    if (begins(c->path, "wishes.avoid."))
        return SW_FORMAT(s, "%s %s", c->subject, yes ? "is not bought" : "may be bought");
    if (begins(c->path, "given.") && strcmp(value, "null") == 0)
        return SW_FORMAT(s, "%s is not given", c->subject);
    if (!begins(c->path, "given.") || !ends(c->path, ".count"))
        return NULL;
    return strcmp(value, "1") == 0 ? SW_FORMAT(s, "%s is given", c->subject)
                                   : SW_FORMAT(s, "%s of %s are given", value, c->subject);
}

const char *sw_sheet_change(sw_sheet *s, const sw_whatif_change *c, const char *value) {
    /* Many values of a wish that is there or is not: no words say both. */
    bool both = c->value == NULL &&
                (begins(c->path, "wishes.keep.") || begins(c->path, "wishes.replace.") ||
                 begins(c->path, "wishes.avoid."));
    if (both)
        return SW_FORMAT(s, "%s is %s", c->path, value);
    const char *words = of_money(s, c, value);
    if (words == NULL)
        words = of_limit(s, c, value);
    if (words == NULL)
        words = of_wish(s, c, value);
    return words != NULL ? words : SW_FORMAT(s, "%s is %s", c->path, value);
}
