import * as z from 'zod';

/** A hint that something changed: the client refetches what it shows of these topics. */
export const News = z.object({ topics: z.array(z.string()) });
/** Topics: `today`, `loads`, `load:ID`, `jobs`, `job:ID`, `thing:ID`, `stores`, `people`, `settings`, `receipts`, `part:ID`, `warnings`, `counts`. */
export type Topic = string;

export const Health = z.object({ status: z.enum(['well', 'ill']), database: z.enum(['answers', 'silent']), version: z.string() });
