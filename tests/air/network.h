/*
 * A network of places joined by edges that move air. In each edge the pressure rises by
 *
 *     source_pa - resistance x q|q|        (q in m3/s, from -> to)
 *
 * which is a fan with a falling curve where there is a source, and an opening where there is
 * none. Place 0 is the open air, at 0 Pa. SI units throughout: the program's are others.
 */
#ifndef AIR_NETWORK_H
#define AIR_NETWORK_H

#include <stdbool.h>
#include <stddef.h>

enum { MOST_PLACES = 40, MOST_EDGES = 80 };

typedef struct Edge {
    size_t from, to;
    double source_pa;
    double resistance; /* Pa s2/m6, above 0 */
    double flow_m3_s;  /* found */
} Edge;

typedef struct Network {
    size_t places, edges;
    Edge edge[MOST_EDGES];
    double pressure_pa[MOST_PLACES]; /* found; 0 for a place that nothing ties to the open air */
} Network;

void network_start(Network *net);
size_t network_place(Network *net);
void network_edge(Network *net, size_t from, size_t to, double source_pa, double resistance);

/* False when it does not settle. */
bool network_solve(Network *net);

#endif
