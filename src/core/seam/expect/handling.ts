/**
 * 1.5 mm: either half cut to within 1 mm (Industrial Cutting of Textile Materials, table 13.1, p. 210: +-1 mm for the edges of
 * fronts, backs and sleeve heads that are neither side seams nor hems), both together 1.4 mm; the trade's matching tolerance
 * at a seam, common practice and no standard, is 1/16 to 1/8 inch, 1.6 to 3.2 mm.
 */
export const COMMON_HANDLING_MM = 1.5;
