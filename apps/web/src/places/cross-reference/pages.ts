/** The pages of Cross-reference, in the order of the links at its head. A page that does not work yet is not listed. */
export const crossReferencePages = [
  { name: 'By number', path: '/cross-reference/number' },
  { name: 'Bearing by number', path: '/cross-reference/bearing' },
  { name: 'Bearing by measurement', path: '/cross-reference/measured' },
  { name: 'Bearing in its packet', path: '/cross-reference/packet' },
  { name: 'Bearing tables', path: '/cross-reference/tables' },
  { name: 'By thread', path: '/cross-reference/thread' },
  { name: 'By ratio', path: '/cross-reference/ratio' },
] as const;
