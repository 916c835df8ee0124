/**
 * Publications that several cases, rules or limits rest on, each as `author: title (year), where it stands`. A source
 * called published has this form, so that a reader can find it; a test holds every one of them to it.
 */

export const JCGM_100 =
  "JCGM: Evaluation of measurement data – Guide to the expression of uncertainty in measurement, JCGM 100 (2008)";
export const JCGM_101 =
  "JCGM: Supplement 1 to the GUM – Propagation of distributions using a Monte Carlo method, JCGM 101 (2008)";
export const NIST_HANDBOOK = "NIST/SEMATECH: e-Handbook of Statistical Methods (2012)";
export const NIST_STRD = "NIST: Statistical Reference Datasets, Technical Note 1396 (1998)";
export const NIOSH_7400 =
  "NIOSH: Asbestos and other fibers by PCM, Manual of Analytical Methods 7400 issue 2 (1994)";
export const WHO_FIBRES = "WHO: Determination of airborne fibre number concentrations (1997)";
export const LOUVEAUX =
  "J. Louveaux, A. Maurizio and G. Vorwohl: Methods of Melissopalynology (1978), Bee World 59, 139";
export const TULLOSS_LINDGREN =
  "R. E. Tulloss and J. E. Lindgren: Amanita aprica, a new toxic species from western North America (2005), Mycotaxon 91, 193–194";
export const PLANKTON_PROTOCOL =
  "D. Başoğlu, M. Beklioğlu and R. Ptacnik: Standardised protocols on data collection, AQUACOSM deliverable 4.1 (2017)";

/** What is said in place of a source that a reader could find. */
export const NO_SOURCE = "Common practice, no source";
