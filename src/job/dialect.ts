/** Words that controls say differently. Source: G20 and G21 RS274/NGC (NISTIR 6556), G70 and G71 EIA RS-274-D. */
export const UNIT_CODES = {
  'G20/G21': { inch: 'G20', mm: 'G21' },
  'G70/G71': { inch: 'G70', mm: 'G71' },
} as const;

/** Decimals of a rotary word, degrees: half of the last is 0.0005 deg. */
export const ROTARY_DECIMALS = 3;
