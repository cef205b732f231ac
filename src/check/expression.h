/* Parsing of expressions, shared by the forms that all may use (expressions.c) and those of
 * measures alone (measure_forms.c). */
#ifndef SW_CHECK_EXPRESSION_H
#define SW_CHECK_EXPRESSION_H

#include "check/stage.h"

#define SW_SEVERAL_ROLES (-4)

/* Where an expression stands. */
typedef struct sw_scope_of {
    int role;     /* of a derived fact; SW_NONE in a stage or measure */
    int before;   /* derived: facts from here on are not known yet; likewise measures */
    bool spreads; /* in a stage, reached through product, least and power alone */
    bool measure;
} sw_scope_of;

/* What an expression turned out to be. */
typedef struct sw_nature {
    int role;             /* SW_NONE, a role, SW_SEVERAL_ROLES */
    size_t ways;          /* products of a stage when its least-ofs are spread */
    bool pressure, power; /* it reads levels of sound pressure, of sound power */
} sw_nature;

bool sw_parse_expression(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                         sw_nature *is);
/* Each of a list of operands. */
bool sw_parse_operands(sw_check *check, const sw_node *list, size_t count, sw_scope_of where,
                       sw_expr *out, sw_nature *is);

typedef bool sw_form_parser(sw_check *check, const sw_node *at, sw_scope_of where, sw_expr *out,
                            sw_nature *is);

typedef struct sw_form {
    const char *name;
    sw_expr_op op;
    sw_form_parser *parse;
    bool joins_roles; /* in a stage */
} sw_form;

extern const sw_form sw_measure_forms[];
extern const size_t sw_measure_form_count;

#endif
