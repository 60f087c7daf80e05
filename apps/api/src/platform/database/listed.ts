/**
 * SQL: the ids of a parameter as an array whose length the planner does not know. Told it, it reckons a short list so much cheaper than an unknown
 * one that it plans the statement anew each time, which takes longer than a look-up by key.
 */
export function listed(parameter: `$${number}`): string {
  return `ARRAY(SELECT unnest(${parameter}::uuid[]))`;
}
