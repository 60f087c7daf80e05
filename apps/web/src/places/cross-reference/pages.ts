/** The pages of Cross-reference, in the order of the links at its head. A page that does not work yet is not listed. */
export const crossReferencePages = [{ name: 'By thread', path: '/cross-reference/thread' }] as const;
