/* Catalogs that are refused: one place of a good one is changed, and exactly one
 * complaint names the file, the place and what is wrong there. */
#include <criterion/criterion.h>

#include "refused.h"

Test(refused, roles) {
    static const row rows[] = {
        {"\"schema\":1", "\"schema\":2", "$.schema", "not 1", NULL},
        {"\"schema\":1,", "", "$", "no \"schema\"", NULL},
        {"\"note\":\"small\"", "\"note\":5", "$.note", "a number, not a text", NULL},
        {"\"note\":\"small\"", "\"extra\":5", "$.extra", "unknown name", NULL},
        {"\"role\":\"memory\"", "\"role\":\"Memory\"", "$.roles[0].role", "no id", NULL},
        {"\"role\":\"fans\"", "\"role\":\"case\"", "$.roles[3].role", "second time", NULL},
        {"\"name\":\"memory\",", "", "$.roles[0]", "no \"name\"", NULL},
        {"\"name\":\"memory\"", "\"name\":\"\"", "$.roles[0].name", "empty", NULL},
        {"\"name\":\"memory\"", "\"nam\":\"memory\",\"name\":\"m\"", "$.roles[0].nam",
         "unknown name", "\"name\""},
        {"\"least\":1,\"most\":4", "\"least\":5,\"most\":4", "$.roles[0]", "above most", NULL},
        {"\"most\":4", "\"most\":17", "$.roles[0].most", "out of range", NULL},
        {"\"most\":4", "\"most\":4.5", "$.roles[0].most", "not a whole number", NULL},
        {"\"least\":1,\"most\":4", "\"least\":-1,\"most\":4", "$.roles[0].least", "out of range",
         NULL},
        {"\"counts\":[1,2,4]", "\"counts\":[1,2,5]", "$.roles[0].counts[2]", "out of place", NULL},
        {"\"counts\":[1,2,4]", "\"counts\":[2,1,4]", "$.roles[0].counts[1]", "out of place", NULL},
        {"\"counts\":[1,2,4]", "\"counts\":[0]", "$.roles[0].counts[0]", "out of place", NULL},
        {"\"counts\":[1,2,4]", "\"counts\":[1.5]", "$.roles[0].counts[0]", "out of place", NULL},
        {"\"counts\":[1,2,4]", "\"counts\":[]", "$.roles[0].counts", "0 entries", NULL},
        {"\"counts\":[1,2,4]", "\"counts\":\"1\"", "$.roles[0].counts", "a text, not a list", NULL},
        {"\"minutes\":10", "\"minutes\":100001", "$.roles[0].minutes", "out of range", NULL},
        {"\"all-or-none\"", "\"all-or-nothing\"", "$.roles[2].kept", "all-or-nothing", NULL},
        {"\"new_kinds\":2", "\"new_kinds\":3", "$.roles[3].new_kinds", "out of range", NULL},
    };
    expect_each("catalog/roles.json", rows, COUNT(rows));
}

Test(refused, facts) {
    static const row rows[] = {
        {"\"fact\":\"rated_mt_s\",\"type\"", "\"fact\":\"rated-mt-s\",\"type\"", "$.facts[4].fact",
         "no fact name", NULL},
        {"\"fact\":\"most_gb\",\"type\"", "\"fact\":\"size_gb\",\"type\"", "$.facts[2].fact",
         "second time", NULL},
        {"\"fact\":\"loss_db\",\"type\"", "\"fact\":\"pieces\",\"type\"", "$.facts[6].fact",
         "built-in", NULL},
        {"\"type\":\"flag\"", "\"type\":\"flags\"", "$.facts[7].type", "flags", "\"flag\""},
        {"\"roles\":[\"board\",\"memory\"]", "\"roles\":[\"boards\",\"memory\"]",
         "$.facts[0].roles[0]", "\"boards\", which is not known", "\"board\""},
        {"\"roles\":[\"board\",\"memory\"]", "\"roles\":[\"board\",\"memory\",\"board\"]",
         "$.facts[0].roles[2]", "twice", NULL},
        {"\"combine\":\"sum\"", "\"combine\":\"each\"", "$.facts[1].combine", "\"each\"", "sum"},
        {"\"combine\":\"sum\",", "", "$.facts[1]", "no \"combine\"", NULL},
        {"\"least\":1,\"most\":256", "\"least\":257,\"most\":256", "$.facts[1]", "above", NULL},
        {"\"least\":1,\"most\":256", "\"least\":1,\"most\":1000000.5", "$.facts[1].most",
         "too large", NULL},
        {"\"least\":1,\"most\":256", "\"least\":0.0005,\"most\":256", "$.facts[1].least",
         "three decimals", NULL},
        {"\"combine\":\"each\",\"tokens\"", "\"combine\":\"each\",\"least\":1,\"tokens\"",
         "$.facts[0].least", "does not belong", NULL},
        {"[\"d4\",\"d5\"]", "[\"d4\",\"d4\",\"d5\"]", "$.facts[0].tokens", "twice", NULL},
        {"[\"d4\",\"d5\"]", "[\"d4\",\"d5\",\"\"]", "$.facts[0].tokens[2]", "empty", NULL},
        {"\"combine\":\"common\"", "\"combine\":\"common\",\"tokens\":[\"a\"]", "$.facts[8].tokens",
         "does not belong", NULL},
        {"\"absent\":\"silent\"", "\"absent\":\"quiet\"", "$.facts[5].absent", "not a number",
         NULL},
        {"\"absent\":0", "\"absent\":31", "$.facts[6].absent", "31", NULL},
        {"\"absent\":0", "\"absent\":\"silent\"", "$.facts[6].absent", "not a number", NULL},
        {"\"meaning\":\"m\",", "", "$.facts[0]", "no \"meaning\"", NULL},
        /* derived facts and their expressions */
        {"{\"fact\":\"flow_gb_s\",\"role\":\"memory\",", "{\"fact\":\"flow_gb_s\",", "$.derived[0]",
         "no \"role\"", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"board.speed_mt_s\",0.008", "$.derived[0].is.product[1]",
         "of the role \"board\"", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"memory.flow_more\",0.008", "$.derived[0].is.product[1]",
         "not made yet", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"memory.flow_gb_s\",0.008", "$.derived[0].is.product[1]",
         "not made yet", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"memory.slot\",0.008", "$.derived[0].is.product[1]",
         "token fact", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"*.speed_mt_s\",0.008", "$.derived[0].is.product[1]",
         "every role", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"memory.speed_mts\",0.008", "$.derived[0].is.product[1]",
         "not known", "speed_mt_s"},
        {"\"memory.speed_mt_s\",0.008", "\"memory.most_gb\",0.008", "$.derived[0].is.product[1]",
         "does not stand", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"speed_mt_s\",0.008", "$.derived[0].is.product[1]",
         "no term", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"memory.speed_mt_s\",0.0085",
         "$.derived[0].is.product[2]", "three decimals", NULL},
        {"\"memory.speed_mt_s\",0.008", "\"memory.speed_mt_s\",null", "$.derived[0].is.product[2]",
         "is null", NULL},
        {"\"at\":[1,2]", "\"at\":[2,2]", "$.derived[0].is.product[0].table.at[1]", "not above",
         NULL},
        {"\"at\":[1,2]", "\"at\":[1]", "$.derived[0].is.product[0].table",
         "1 numbers in \"at\" and 2", NULL},
        {"\"gives\":[1,2]", "\"give\":[1,2],\"gives\":[1,2]",
         "$.derived[0].is.product[0].table.give", "unknown name", "\"gives\""},
        {"\"most\":[\"memory.flow_gb_s\"", "\"mots\":[\"memory.flow_gb_s\"", "$.derived[1].is.mots",
         "unknown name", "\"most\""},
        {"\"most\":[\"memory.flow_gb_s\"", "\"sum\":[1],\"most\":[\"memory.flow_gb_s\"",
         "$.derived[1].is", "2 operators", NULL},
        {"{\"d5\":2.5}", "{\"d6\":2.5}", "$.derived[1].is.most[1].pick.from.d6", "does not list",
         "did you mean"},
        {"\"memory.slot\",\"from\"", "\"memory.size_gb\",\"from\"",
         "$.derived[1].is.most[1].pick.of", "number fact", NULL},
        {",\"else\":1", "", "$.derived[1].is.most[1].pick", "no \"else\"", NULL},
    };
    expect_each("catalog/facts.json", rows, COUNT(rows));
}

Test(refused, observations) {
    static const row rows[] = {
        {"\"id\":\"dusty\"", "\"id\":\"profile-off\"", "$.observations[1].id", "second time", NULL},
        {"\"id\":\"dusty\"", "\"id\":\"-dusty\"", "$.observations[1].id", "no id", NULL},
    };
    expect_each("catalog/observations.json", rows, COUNT(rows));
}

Test(refused, tasks) {
    static const row rows[] = {
        {"\"applies_to\":\"kept\"", "\"applies_to\":\"new\"", "$.tasks[0].applies_to", "new", NULL},
        {"\"id\":\"clean\"", "\"id\":\"profile\"", "$.tasks[1].id", "second time", NULL},
        {"\"observed\":\"profile-off\"", "\"observed\":\"profile-of\"",
         "$.tasks[0].needs[0].observed", "not known", "profile-off"},
        {"\"observed\":\"profile-off\"", "\"changes\":\"memory\"", "$.tasks[0].needs[0]",
         "neither a fact nor an observation", NULL},
        {"\"memory.rated_mt_s\",\"least\"", "\"board.most_gb\",\"least\"", "$.tasks[0].needs[1]",
         "another role", NULL},
        {"\"memory.rated_mt_s\",\"least\"", "\"memory.slot\",\"least\"", "$.tasks[0].needs[1].fact",
         "token fact", NULL},
        {"\"set_from\":\"rated_mt_s\"", "\"set_from\":\"slot\"", "$.tasks[0].effects[0].set_from",
         "token fact", NULL},
        {"\"set_from\":\"rated_mt_s\"", "\"set_from\":\"most_gb\"",
         "$.tasks[0].effects[0].set_from", "does not stand", NULL},
        {"\"set_from\":\"rated_mt_s\"", "\"set_from\":\"flow_gb_s\"",
         "$.tasks[0].effects[0].set_from", "derived", NULL},
        {"\"set_from\":\"rated_mt_s\"", "\"set\":50", "$.tasks[0].effects[0].set", "50", NULL},
        {"\"set_from\":\"rated_mt_s\"", "\"set\":500,\"add\":1", "$.tasks[0].effects[0]",
         "2 changes", NULL},
        {"\"set_from\":\"rated_mt_s\"", "\"set_form\":\"rated_mt_s\"",
         "$.tasks[0].effects[0].set_form", "unknown name", "set_from"},
        {"{\"fact\":\"noise_dba\",\"add\":-2.5}", "{\"fact\":\"lit\",\"add\":-2.5}",
         "$.tasks[1].effects[0].fact", "flag fact", NULL},
        {"{\"fact\":\"noise_dba\",\"add\":-2.5}", "{\"fact\":\"loss_db\",\"add\":-2.5}",
         "$.tasks[1].effects[0].fact", "does not stand", NULL},
        {"\"set\":false", "\"set\":0", "$.tasks[1].effects[1].set", "not true or false", NULL},
        {"\"price\":\"1.50\"", "\"price\":1.5", "$.tasks[1].price", "a number, not a text", NULL},
        {"\"price\":\"1.50\"", "\"price\":\"1.505\"", "$.tasks[1].price", "no amount", NULL},
        {"\"role\":\"fans\",\"applies_to\"", "\"role\":\"fan\",\"applies_to\"", "$.tasks[1].role",
         "not known", "\"fans\""},
    };
    expect_each("catalog/tasks.json", rows, COUNT(rows));
}

Test(refused, parts) {
    static const row rows[] = {
        {"\"id\":\"mem-a\"", "\"id\":\"mem_a\"", "$.parts[1].id", "no id", NULL},
        {"\"id\":\"mem-a\"", "\"id\":\"mem-b\"", "$.parts[1].id", "second time", NULL},
        {"\"size_gb\":16", "\"size_gb\":512", "$.parts[0].facts.size_gb", "512", NULL},
        {"\"size_gb\":16", "\"size_gb\":\"16\"", "$.parts[0].facts.size_gb", "not a number",
         "without quotes"},
        {"\"size_gb\":16", "\"sice_gb\":16", "$.parts[0].facts.sice_gb", "not known", "size_gb"},
        {"\"size_gb\":16", "\"most_gb\":16", "$.parts[0].facts.most_gb", "does not stand", NULL},
        {"\"size_gb\":16", "\"flow_gb_s\":16", "$.parts[0].facts.flow_gb_s", "derived", NULL},
        {"\"slot\":\"d4\",\"size_gb\":16", "\"slot\":\"d3\",\"size_gb\":16",
         "$.parts[0].facts.slot", "does not list", "d4"},
        {"\"lit\":true", "\"lit\":\"yes\"", "$.parts[3].facts.lit", "not true or false", NULL},
        {"[\"small\",\"large\"]", "[\"small\",\"small\"]", "$.parts[3].facts.forms", "twice", NULL},
        {"[\"small\",\"large\"]", "\"small\"", "$.parts[3].facts.forms", "not a list", NULL},
        {"\"noise_dba\":22.5", "\"noise_dba\":\"silent\"", "$.parts[4].facts.noise_dba",
         "not a number", NULL},
        {"\"site\":\"top\",\"count\":1", "\"site\":\"roof\",\"count\":1",
         "$.parts[3].facts.sites[0].takes[0]", "\"roof\"", NULL},
        {"{\"site\":\"top\",\"kind\"", "{\"site\":\"front\",\"kind\"", "$.parts[3].facts.sites[1]",
         "second time", NULL},
        {"{\"site\":\"top\",\"count\":1}", "{\"site\":\"top\"},{\"site\":\"top\"}",
         "$.parts[3].facts.sites[0].takes[1]", "again", NULL},
        {"\"count\":3", "\"count\":17", "$.parts[3].facts.sites[0].count", "out of range", NULL},
        {"\"depth_mm\":30", "\"depth_mm\":-1", "$.parts[3].facts.sites[0].depth_mm", "-1", NULL},
        {"\"sizes\":[\"120\"]", "\"sizes\":[]", "$.parts[3].facts.sites[1].sizes", "0 entries",
         NULL},
        {"\"size\":\"120\",", "", "$.parts[4].facts.things[0]", "no \"size\"", NULL},
        {"\"size\":\"120\"", "\"sizes\":\"120\",\"size\":\"120\"",
         "$.parts[4].facts.things[0].sizes", "unknown name", "size"},
        {",\"facts\":{\"slot\":\"d4\",\"size_gb\":8,\"speed_mt_s\":2133}", "", "$.parts[1]",
         "no \"facts\"", NULL},
    };
    expect_each("catalog/parts/all.json", rows, COUNT(rows));
}

Test(refused, rules) {
    static const row rows[] = {
        {"\"id\":\"form\"", "\"id\":\"slot\"", "$.rules[1].id", "second time", NULL},
        {"\"shape\":\"same\"", "\"shape\":\"sane\"", "$.rules[0].shape", "sane", "\"same\""},
        {"\"level\":\"caution\"", "\"level\":\"soft\"", "$.rules[2].level", "soft", NULL},
        {"\"left\":\"memory.slot\"", "\"left\":\"memory.size_gb\"", "$.rules[0].left",
         "number fact", NULL},
        {"\"left\":\"memory.slot\"", "\"left\":\"*.slot\"", "$.rules[0].left", "every role", NULL},
        {"\"left\":\"memory.slot\"", "\"left\":\"memory.pieces\"", "$.rules[0].left", "number fact",
         NULL},
        {"\"right\":\"case.forms\"", "\"right\":\"case.lit\"", "$.rules[1].right", "flag fact",
         NULL},
        {"{left} is not", "{need} is not", "$.rules[0].client", "{need}", NULL},
        {"{left} is not", "{lefd} is not", "$.rules[0].client", "{lefd}", "\"left\""},
        {"{left} is not", "{left is not", "$.rules[0].client", "brace", NULL},
        {"{need} of {room}", "need} of", "$.rules[2].bench", "brace", NULL},
        {"\"need\":\"memory.size_gb\",", "", "$.rules[2]", "no \"need\"", NULL},
        {"\"need\":\"memory.size_gb\"", "\"need\":\"memory.slot\"", "$.rules[2].need", "token fact",
         NULL},
        {"[\"*.loss_db\"]", "[\"*.loss\"]", "$.rules[2].taken[0]", "not known", NULL},
        {"\"factor\":1.5", "\"factor\":-1", "$.rules[3].loads[0].factor", "-1", NULL},
        {"\"factor\":1.5", "\"factor\":1000.5", "$.rules[3].loads[0].factor", "1000.5", NULL},
        {"\"factor\":1.5", "\"fixed\":1.5", "$.rules[3].loads[0]", "several", NULL},
        {"{\"fixed\":-3}", "{\"fixed\":-3,\"today\":\"case.loss_db\"}", "$.rules[3].loads[1]",
         "several", NULL},
        {"{\"fixed\":-3}", "{\"today\":\"case.loss_db\",\"factor\":2}", "$.rules[3].loads[1]",
         "several", NULL},
        {"{\"fixed\":-3}", "{}", "$.rules[3].loads[1]", "none", NULL},
        {"[{\"fact\":\"case.loss_db\"},{\"fixed\":500}]", "[]", "$.rules[3].supplies", "0 entries",
         NULL},
        {"{\"changes\":\"fans\"}", "{\"changes\":\"fan\"}", "$.rules[3].when[0].changes",
         "not known", "fans"},
        {"{\"changes\":\"fans\"}", "{\"change\":\"fans\"}", "$.rules[3].when[0]", "no condition",
         "changes"},
        {"{\"changes\":\"fans\"}", "{\"changes\":\"fans\",\"empty\":\"case\"}",
         "$.rules[3].when[0]", "two conditions", NULL},
        {"{\"changes\":\"fans\"}", "[]", "$.rules[3].when[0]", "a list, not an object", NULL},
        {"\"holds\":\"case-a\"", "\"holds\":\"case-b\"", "$.rules[1].unless[0].not.not.holds",
         "not known", "case-a"},
        {"\"task\":\"profile\"", "\"task\":\"profil\"", "$.rules[4].to.task", "not known",
         "profile"},
        {"\"needs\":[{\"fact\":\"board.speed_mt_s\",\"least\":2000}]", "\"needs\":[]",
         "$.rules[4].needs", "0 entries", NULL},
        {"\"board.speed_mt_s\",\"least\":2000", "\"board.speed_mt_s\",\"least\":\"2000\"",
         "$.rules[4].needs[0].least", "not a number", NULL},
        {"\"board.speed_mt_s\",\"least\":2000", "\"board.speed_mt_s\",\"has\":\"x\"",
         "$.rules[4].needs[0].fact", "number fact", NULL},
        {"\"board.speed_mt_s\",\"least\":2000", "\"board.speed_mt_s\",\"least\":1,\"most\":2",
         "$.rules[4].needs[0]", "2 times", NULL},
        {"\"board.speed_mt_s\",\"least\":2000", "\"board.speed_mt_s\"", "$.rules[4].needs[0]",
         "0 times", NULL},
        {"\"fact\":\"case.lit\",\"is\":true", "\"fact\":\"case.lit\",\"is\":1",
         "$.rules[5].of[0].is", "not true or false", NULL},
        {"\"fact\":\"case.lit\",\"is\":true", "\"fact\":\"case.sites\",\"is\":true",
         "$.rules[5].of[0].fact", "sites fact", NULL},
        {"[\"white\",\"black\"]", "[\"white\",\"blak\"]", "$.rules[5].of[1].one_of[1]",
         "does not list", "black"},
        {"[\"white\",\"black\"]", "[]", "$.rules[5].of[1].one_of", "empty", NULL},
        {"\"board.slot\",\"is\":\"d5\"", "\"board.slot\",\"is\":\"d9\"", "$.rules[5].of[4].is",
         "does not list", NULL},
        {"\"things\":[\"*.things\"]", "\"things\":[\"case.sites\"]", "$.rules[6].things[0]",
         "sites fact", NULL},
        {"\"sites\":[\"case.sites\"]", "\"sites\":[\"case.sites\"],\"when\":[]", "$.rules[6].when",
         "unknown name", NULL},
        {"\"source\":\"s\"}]}",
         "\"source\":\"s\"},{\"id\":\"more\",\"shape\":\"place\",\"level\":\"hard\","
         "\"kind\":\"fan\",\"things\":[\"*.things\"],\"sites\":[\"case.sites\"],\"client\":\"c\","
         "\"bench\":\"b\",\"source\":\"s\"}]}",
         "$.rules[7].kind", "again", NULL},
    };
    expect_each("catalog/rules.json", rows, COUNT(rows));
}

Test(refused, charges) {
    static const row rows[] = {
        {"\"amount\":\"2.00\"", "\"amount\":\"-2.00\"", "$.charges[0].amount", "no amount", NULL},
        {"\"amount\":\"2.00\"", "\"amount\":\"10000000.01\"", "$.charges[0].amount", "no amount",
         NULL},
        {"\"minutes\":15", "\"minutes\":-15", "$.charges[0].minutes", "out of range", NULL},
        {"[{\"changes\":\"memory\"},{\"task\":\"clean\"}]", "[]", "$.charges[0].for_any",
         "0 entries", NULL},
    };
    expect_each("catalog/charges.json", rows, COUNT(rows));
}

Test(refused, criteria) {
    static const row rows[] = {
        {"\"id\":\"quiet\"", "\"id\":\"speed\"", "$.criteria[1].id", "second time", NULL},
        {"\"kind\":\"speed\"", "\"kind\":\"swift\"", "$.criteria[0].kind", "swift", NULL},
        {"\"noise\":\"noise_dba\"", "\"noise\":\"loss_db\"", "$.criteria[1].noise",
         "not combine as power", NULL},
        {"\"loss\":\"case.loss_db\"", "\"loss\":\"case.lit\"", "$.criteria[1].loss", "flag fact",
         NULL},
        {"\"weight\":30", "\"weight\":0", "$.criteria[2].shows[0].weight", "0", NULL},
        {"{\"role\":\"fans\",\"weight\"", "{\"role\":\"case\",\"weight\"", "$.criteria[2].shows[1]",
         "again", NULL},
        {"\"fact\":\"finish\",\"weight\":3", "\"fact\":\"finish\",\"weight\":-3",
         "$.criteria[2].aspects[0].weight", "-3", NULL},
        {"\"fact\":\"finish\",\"weight\":3", "\"fact\":\"finish\",\"weight\":3,\"scale\":5",
         "$.criteria[2].aspects[0].fact", "token fact", NULL},
        {",\"scale\":10}]", "}]", "$.criteria[2].aspects[1].fact", "number fact", NULL},
        {"\"*.size_gb\"],\"scale\":10", "\"*.size_gb\"],\"scale\":0", "$.criteria[3].scale", "0",
         NULL},
        {"\"*.size_gb\"", "\"*.slot\"", "$.criteria[3].facts[1]", "token fact", NULL},
        {"\"id\":\"roomy\",\"name\":\"n\",\"kind\":\"rated\",\"facts\":[\"board.most_gb\","
         "\"*.size_gb\"],\"scale\":10",
         "\"id\":\"roomy\",\"name\":\"n\",\"kind\":\"speed\"", "$.criteria[3].kind", "second time",
         NULL},
    };
    expect_each("catalog/criteria.json", rows, COUNT(rows));
}

Test(refused, uses) {
    static const row rows[] = {
        {"\"id\":\"talk\"", "\"id\":\"photos\"", "$.uses[1].id", "second time", NULL},
        {"\"product\":[0.5,", "\"product\":[0,", "$.uses[0].stages[0].rate.product[0]",
         "not positive", NULL},
        {"\"product\":[0.5,", "\"product\":[-1,", "$.uses[0].stages[0].rate.product[0]",
         "not positive", NULL},
        {"\"product\":[0.5,", "\"sum\":[0.5,", "$.uses[0].stages[0].rate", "several roles", NULL},
        {"\"product\":[0.5,", "\"most\":[0.5,", "$.uses[0].stages[0].rate", "several roles", NULL},
        {"\"product\":[0.5,", "\"product\":[{\"sum\":[0.5]},",
         "$.uses[0].stages[0].rate.product[0]", "names no fact", NULL},
        {"1]}]},0.5]}", "1]}]},0]}", "$.uses[0].stages[0].rate.product[1].power[1]", "not positive",
         NULL},
        {"1]}]},0.5]}", "1]}]},0.5,1]}", "$.uses[0].stages[0].rate.product[1].power", "3 entries",
         NULL},
        {"{\"sum\":[\"board.most_gb\",1]}",
         "{\"log2\":{\"least\":[\"board.most_gb\","
         "\"memory.size_gb\"]}}",
         "$.uses[0].stages[0].rate.product[1].power[0].least[1]", "several roles", NULL},
        {"{\"sum\":[\"board.most_gb\",1]}", "{\"sum\":[]}",
         "$.uses[0].stages[0].rate.product[1].power[0].least[1].sum", "0 operands", NULL},
        {"\"stages\":[{\"stage\":\"load\"", "\"stages\":[{\"stage\":\"Load\"",
         "$.uses[0].stages[0].stage", "no id", NULL},
        {"\"unit\":\"calls\",", "", "$.uses[1]", "no \"unit\"", NULL},
    };
    expect_each("catalog/uses.json", rows, COUNT(rows));
}

Test(refused, stage_that_spreads_too_far) {
    sw_text rate = {0};
    sw_text_add(&rate, "\"rate\":{\"product\":[1");
    for (int i = 0; i < 9; i++)
        sw_text_add(&rate, ",{\"least\":[\"board.most_gb\",\"memory.size_gb\"]}");
    sw_text_add(&rate, "]}}]}]}");
    row is = {"\"rate\":{\"log2\":{\"power\":[\"memory.size_gb\",-1]}}}]}]}", rate.bytes,
              "$.uses[1].stages[0].rate", "too many products", NULL};
    expect_one("catalog/uses.json", &is);
    sw_text_free(&rate);
}

Test(refused, sellers) {
    static const row rows[] = {
        {"\"currency\":\"EUR\"", "\"currency\":\"EUC\"", "$.currency", "EUC", NULL},
        {"\"currency\":\"EUR\",", "", "$", "no \"currency\"", NULL},
        {"\"minutes\":12}]", "\"minutes\":12},{\"id\":\"client\",\"name\":\"n\"}]",
         "$.sellers[2].id", "client", NULL},
        {"\"delivery\":\"4.90\",", "", "$.sellers[0].free_from", "without \"delivery\"", NULL},
        {"\"delivery\":\"4.90\"", "\"delivery\":\"4,90\"", "$.sellers[0].delivery", "no amount",
         NULL},
        {"\"delivery_days\":2", "\"delivery_days\":1000001", "$.sellers[0].delivery_days",
         "out of range", NULL},
    };
    expect_each("catalog/sellers.json", rows, COUNT(rows));
}

Test(refused, listings) {
    static const row rows[] = {
        {"part,seller", "part,shop", "line 1", "not the header", NULL},
        {"mem-b,yard", "mem-c,yard", "line 2", "\"mem-c\", which is not known", "mem-"},
        {"mem-b,barn", "mem-b,brn", "line 3", "\"brn\", which is not known", "barn"},
        {"mem-b,barn", "mem-b,yard", "line 3", "again, as on line 2", NULL},
        {"45.00,3", "45.005,3", "line 2", "45.005", NULL},
        {"45.00,3", "1.234 EUR,3", "line 2", "price", NULL},
        {"45.00,3", "45.00,3+", "line 2", "stock \"3+\"", NULL},
        {"45.00,3", "45.00,-3", "line 2", "stock \"-3\"", NULL},
        {"45.00,3", "45.00,", "line 2", "stock \"\"", NULL},
        {"45.00,3", "45.00,1000001", "line 2", "stock", NULL},
        {"45.00,3", "45.00,99999999999999999999", "line 2", "stock", NULL},
        {"12.5,10,1,24,30", "12.5,10,1,24", "line 4", "6 cells", NULL},
        {"12.5,10,1,24,30", "12.5,10,3-5,24,30", "line 4", "days \"3-5\"", NULL},
        {"fan-a,yard", "fan\"a,yard", "line 4", "stray quote", NULL},
    };
    expect_each("catalog/listings.csv", rows, COUNT(rows));
}
