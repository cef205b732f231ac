/* The files of a small catalog and of a job on it. */
#ifndef SHELF_FILES_H
#define SHELF_FILES_H

typedef struct shelf_file {
    const char *name, *text;
} shelf_file;

static const shelf_file shelf_files[] = {
    {"catalog/roles.json",
     "{\"schema\":1,\"note\":\"small\",\"roles\":["
     "{\"role\":\"memory\",\"name\":\"memory\",\"least\":1,\"most\":4,\"counts\":[1,2,4],"
     "\"minutes\":10},"
     "{\"role\":\"board\",\"name\":\"board\",\"least\":1,\"minutes\":60},"
     "{\"role\":\"case\",\"name\":\"case\",\"least\":1,\"kept\":\"all-or-none\"},"
     "{\"role\":\"fans\",\"name\":\"fans\",\"most\":3,\"new_kinds\":2}]}"},
    {"catalog/facts.json",
     "{\"schema\":1,\"facts\":["
     "{\"fact\":\"slot\",\"type\":\"token\",\"roles\":[\"board\",\"memory\"],"
     "\"combine\":\"each\",\"tokens\":[\"d4\",\"d5\"],\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"size_gb\",\"type\":\"number\",\"roles\":[\"memory\"],\"combine\":\"sum\","
     "\"least\":1,\"most\":256,\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"most_gb\",\"type\":\"number\",\"roles\":[\"board\"],\"combine\":\"least\","
     "\"least\":1,\"most\":1024,\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"speed_mt_s\",\"type\":\"number\",\"roles\":[\"memory\",\"board\"],"
     "\"combine\":\"least\",\"least\":100,\"most\":20000,\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"rated_mt_s\",\"type\":\"number\",\"roles\":[\"memory\"],\"combine\":\"least\","
     "\"least\":100,\"most\":20000,\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"noise_dba\",\"type\":\"number\",\"roles\":[\"fans\",\"memory\"],"
     "\"combine\":\"power\",\"least\":-10,\"most\":90,\"absent\":\"silent\",\"meaning\":\"m\","
     "\"source\":\"s\"},"
     "{\"fact\":\"loss_db\",\"type\":\"number\",\"roles\":[\"case\"],\"combine\":\"most\","
     "\"least\":0,\"most\":30,\"absent\":0,\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"lit\",\"type\":\"flag\",\"roles\":[\"fans\",\"case\"],\"combine\":\"any\","
     "\"absent\":false,\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"forms\",\"type\":\"list\",\"roles\":[\"case\"],\"combine\":\"common\","
     "\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"form\",\"type\":\"token\",\"roles\":[\"board\"],\"combine\":\"each\","
     "\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"finish\",\"type\":\"token\",\"roles\":[\"case\",\"fans\"],\"combine\":\"each\","
     "\"tokens\":[\"black\",\"white\"],\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"sites\",\"type\":\"sites\",\"roles\":[\"case\"],\"combine\":\"joined\","
     "\"absent\":[],\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"things\",\"type\":\"things\",\"roles\":[\"fans\"],\"combine\":\"joined\","
     "\"absent\":[],\"meaning\":\"m\",\"source\":\"s\"}],"
     "\"derived\":["
     "{\"fact\":\"flow_gb_s\",\"role\":\"memory\",\"is\":{\"product\":[{\"table\":{\"of\":"
     "\"memory.pieces\",\"at\":[1,2],\"gives\":[1,2]}},\"memory.speed_mt_s\",0.008]},"
     "\"meaning\":\"m\",\"source\":\"s\"},"
     "{\"fact\":\"flow_more\",\"role\":\"memory\",\"is\":{\"most\":[\"memory.flow_gb_s\","
     "{\"pick\":{\"of\":\"memory.slot\",\"from\":{\"d5\":2.5},\"else\":1}}]},"
     "\"meaning\":\"m\",\"source\":\"s\"}]}"},
    {"catalog/observations.json",
     "{\"schema\":1,\"observations\":[{\"id\":\"profile-off\",\"meaning\":\"m\"},"
     "{\"id\":\"dusty\",\"meaning\":\"m\"}]}"},
    {"catalog/tasks.json",
     "{\"schema\":1,\"tasks\":[{\"id\":\"profile\",\"name\":\"n\",\"role\":\"memory\","
     "\"applies_to\":\"kept\",\"family\":\"profile\",\"minutes\":5,"
     "\"needs\":[{\"observed\":\"profile-off\"},{\"fact\":\"memory.rated_mt_s\",\"least\":2000}],"
     "\"effects\":[{\"fact\":\"speed_mt_s\",\"set_from\":\"rated_mt_s\"}],\"caution\":\"c\"},"
     "{\"id\":\"clean\",\"name\":\"n\",\"role\":\"fans\",\"applies_to\":\"any\","
     "\"price\":\"1.50\",\"effects\":[{\"fact\":\"noise_dba\",\"add\":-2.5},"
     "{\"fact\":\"lit\",\"set\":false},{\"fact\":\"noise_dba\",\"times\":0.9}],"
     "\"source\":\"s\"}]}"},
    {"catalog/parts/all.json",
     "{\"schema\":1,\"parts\":["
     "{\"id\":\"mem-b\",\"role\":\"memory\",\"name\":\"B\",\"maker\":\"Owl Yard\",\"facts\":"
     "{\"slot\":\"d4\",\"size_gb\":16,\"speed_mt_s\":2400,\"rated_mt_s\":3200}},"
     "{\"id\":\"mem-a\",\"role\":\"memory\",\"name\":\"A\",\"facts\":{\"slot\":\"d4\","
     "\"size_gb\":8,\"speed_mt_s\":2133}},"
     "{\"id\":\"board-a\",\"role\":\"board\",\"name\":\"A\",\"facts\":{\"slot\":\"d4\","
     "\"most_gb\":64,\"speed_mt_s\":3200,\"form\":\"small\"}},"
     "{\"id\":\"case-a\",\"role\":\"case\",\"name\":\"A\",\"facts\":{\"forms\":[\"small\","
     "\"large\"],\"finish\":\"white\",\"lit\":true,\"sites\":[{\"site\":\"front\","
     "\"kind\":\"fan\",\"sizes\":[\"140\",\"120\"],\"count\":3,\"depth_mm\":30,"
     "\"takes\":[{\"site\":\"top\",\"count\":1}]},{\"site\":\"top\",\"kind\":\"fan\","
     "\"sizes\":[\"120\"],\"side\":\"top\"}]}},"
     "{\"id\":\"fan-a\",\"role\":\"fans\",\"name\":\"A\",\"maker\":\"Owl Yard\",\"facts\":"
     "{\"noise_dba\":22.5,\"finish\":\"black\",\"things\":[{\"kind\":\"fan\",\"size\":\"120\","
     "\"depth_mm\":25,\"side\":\"top\"}]}}]}"},
    {"catalog/rules.json",
     "{\"schema\":1,\"rules\":["
     "{\"id\":\"slot\",\"shape\":\"same\",\"level\":\"hard\",\"left\":\"memory.slot\","
     "\"right\":\"board.slot\",\"client\":\"{left} is not {right}\",\"bench\":\"b\","
     "\"source\":\"s\"},"
     "{\"id\":\"form\",\"shape\":\"among\",\"level\":\"hard\",\"left\":\"board.form\","
     "\"right\":\"case.forms\",\"unless\":[{\"not\":{\"not\":{\"holds\":\"case-a\"}}}],"
     "\"client\":\"c\",\"bench\":\"b\",\"source\":\"s\"},"
     "{\"id\":\"size\",\"shape\":\"within\",\"level\":\"caution\",\"need\":\"memory.size_gb\","
     "\"room\":\"board.most_gb\",\"taken\":[\"*.loss_db\"],\"client\":\"{short} GB too many\","
     "\"bench\":\"{need} of {room}\",\"source\":\"s\"},"
     "{\"id\":\"air\",\"shape\":\"supply\",\"level\":\"hard\",\"loads\":[{\"fact\":\"*.noise_dba\","
     "\"factor\":1.5},{\"fixed\":-3}],\"supplies\":[{\"fact\":\"case.loss_db\"},{\"fixed\":500}],"
     "\"when\":[{\"changes\":\"fans\"}],\"client\":\"c\",\"bench\":\"b\",\"source\":\"s\"},"
     "{\"id\":\"open\",\"shape\":\"unlock\",\"level\":\"hard\",\"to\":{\"task\":\"profile\"},"
     "\"needs\":[{\"fact\":\"board.speed_mt_s\",\"least\":2000}],\"client\":\"c\","
     "\"bench\":\"b\",\"source\":\"s\"},"
     "{\"id\":\"glow\",\"shape\":\"clash\",\"level\":\"caution\",\"of\":[{\"fact\":\"case.lit\","
     "\"is\":true},{\"fact\":\"fans.finish\",\"one_of\":[\"white\",\"black\"]},"
     "{\"empty\":\"fans\"},{\"fact\":\"case.forms\",\"has\":\"large\"},"
     "{\"fact\":\"board.slot\",\"is\":\"d5\"},{\"fact\":\"memory.size_gb\",\"is\":8}],"
     "\"client\":\"c\",\"bench\":\"b\",\"source\":\"s\"},"
     "{\"id\":\"seats\",\"shape\":\"place\",\"level\":\"hard\",\"kind\":\"fan\","
     "\"things\":[\"*.things\"],\"sites\":[\"case.sites\"],\"client\":\"c\",\"bench\":\"b\","
     "\"source\":\"s\"}]}"},
    {"catalog/charges.json",
     "{\"schema\":1,\"charges\":[{\"id\":\"open-case\",\"name\":\"n\",\"amount\":\"2.00\","
     "\"minutes\":15,\"for_any\":[{\"changes\":\"memory\"},{\"task\":\"clean\"}]}]}"},
    {"catalog/criteria.json",
     "{\"schema\":1,\"criteria\":[{\"id\":\"speed\",\"name\":\"n\",\"kind\":\"speed\"},"
     "{\"id\":\"quiet\",\"name\":\"n\",\"kind\":\"quiet\",\"noise\":\"noise_dba\","
     "\"loss\":\"case.loss_db\"},"
     "{\"id\":\"looks\",\"name\":\"n\",\"kind\":\"looks\",\"shows\":[{\"role\":\"case\","
     "\"weight\":30},{\"role\":\"fans\",\"weight\":2.5}],\"aspects\":[{\"fact\":\"finish\","
     "\"weight\":3},{\"fact\":\"loss_db\",\"weight\":1,\"scale\":10}]},"
     "{\"id\":\"roomy\",\"name\":\"n\",\"kind\":\"rated\",\"facts\":[\"board.most_gb\","
     "\"*.size_gb\"],\"scale\":10}]}"},
    {"catalog/uses.json",
     "{\"schema\":1,\"uses\":[{\"id\":\"photos\",\"name\":\"n\",\"unit\":\"photos/min\","
     "\"stages\":[{\"stage\":\"load\",\"name\":\"n\",\"rate\":{\"product\":[0.5,{\"power\":["
     "{\"least\":[\"memory.flow_gb_s\",{\"sum\":[\"board.most_gb\",1]}]},0.5]},"
     "{\"power\":[\"board.speed_mt_s\",2]}]}}]},"
     "{\"id\":\"talk\",\"name\":\"n\",\"unit\":\"calls\",\"stages\":[{\"stage\":\"all\","
     "\"name\":\"n\",\"rate\":{\"log2\":{\"power\":[\"memory.size_gb\",-1]}}}]}]}"},
    {"catalog/sellers.json",
     "{\"schema\":1,\"currency\":\"EUR\",\"sellers\":[{\"id\":\"yard\",\"name\":\"Y\","
     "\"delivery\":\"4.90\",\"free_from\":\"60\",\"delivery_days\":2,\"minutes\":0},"
     "{\"id\":\"barn\",\"name\":\"B\",\"delivery_days\":0,\"minutes\":12}]}"},
    {"catalog/listings.csv", "part,seller,price,stock,days,warranty_months,return_days\r\n"
                             "mem-b,yard,45.00,3,1,24,30\r\n"
                             "mem-b,barn,44,1,0,0,0\r\n"
                             "fan-a,yard,12.5,10,1,24,30\r\n"
                             "board-a,barn,110.00,1,0,12,14\r\n"},
    {"jobs/job.json",
     "{\"schema\":1,\"title\":\"t\",\"catalog\":\"../catalog\",\"currency\":\"EUR\","
     "\"date\":\"2026-03-02\","
     "\"machine\":{\"memory\":[{\"part\":\"mem-b\"},{\"part\":\"mem-a\",\"count\":2,"
     "\"condition\":\"worn\",\"offer\":\"5.00\",\"hoped\":\"9.00\"}],"
     "\"board\":[{\"part\":\"board-a\",\"facts\":{\"speed_mt_s\":2666}}],"
     "\"case\":[{\"part\":\"old-box\",\"name\":\"old box\",\"facts\":{\"forms\":[\"small\"],"
     "\"finish\":\"black\"}}]},"
     "\"given\":[{\"part\":\"gift\",\"role\":\"fans\",\"name\":\"a gift\",\"count\":2,"
     "\"strings\":[\"must-use\",\"no-resale\"],\"arrives_on\":\"2026-04-01\","
     "\"facts\":{\"noise_dba\":20}},{\"part\":\"fan-a\"}],"
     "\"observed\":[\"profile-off\"],"
     "\"musts\":[{\"id\":\"weak\",\"replace\":\"mem-a\",\"why\":\"w\"},"
     "{\"id\":\"set\",\"do\":\"profile\"}],"
     "\"wishes\":{\"swings\":{\"speed\":100,\"quiet\":60,\"looks\":40},"
     "\"uses\":[{\"use\":\"photos\",\"share\":60,\"rate_now\":48,\"rate_wanted\":90}],"
     "\"taste\":{\"finish\":[\"black\"]},\"keep\":[\"case\"],\"replace\":[\"mem-a\"],"
     "\"avoid\":[\"Owl Yard\"],\"limits\":{\"loudness_sone\":2.5,\"days\":6,"
     "\"bench_minutes\":180}},"
     "\"room\":{\"level_dba\":30},"
     "\"budget\":{\"total\":\"650.00\",\"reserve\":\"30.00\",\"sundries\":\"8.00\"},"
     "\"labour\":{\"rate_per_hour\":\"36.00\"},"
     "\"tax\":{\"percent\":8.25,\"prices\":\"without\",\"round\":\"half-even\","
     "\"per\":\"invoice\"},\"allow_unknown\":true}"},
};

#endif
