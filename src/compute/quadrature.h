/* Integrals of smooth functions. */
#ifndef COMPUTE_QUADRATURE_H
#define COMPUTE_QUADRATURE_H

typedef double quadrature_function(double x, const void *data);

/** ∫ f(x) dx between two places, by Gauss and Legendre's rule of five points on each of 16 equal panels: a function
 * that is smooth all along comes out to nearly all digits. A kink belongs at the end of a call. */
double quadrature_integral(quadrature_function *function, const void *data, double from, double to);

#endif
