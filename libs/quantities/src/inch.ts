/** By definition, since 1959. */
export const millimetresPerInch = 25.4;
