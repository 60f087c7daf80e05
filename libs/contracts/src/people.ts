import * as z from 'zod';
import { Id, RequiredText, Role } from './base.js';

export const Workshop = z.object({
  name: z.string(),
  timeZone: z.string(),
  locale: z.string(),
  currency: z.string(),
  isExample: z.boolean(),
  needsSetUp: z.boolean(),
  today: z.string(),
});
export type Workshop = z.infer<typeof Workshop>;

export const PassPhrase = z.string().min(10, 'A pass phrase has at least 10 characters.').max(200);
const SignInName = z.string().trim().toLowerCase().min(1, 'This cannot be left empty.').max(60);
const Token = z.string().min(16).max(200);

export const SetUp = z.strictObject({
  token: Token,
  workshopName: RequiredText,
  timeZone: z.string().min(1).max(60),
  locale: z.string().min(2).max(20),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, 'A currency is three capital letters, such as GBP.')
    .default('GBP'),
  displayName: RequiredText,
  signInName: SignInName,
  passPhrase: PassPhrase,
});
export const SignIn = z.strictObject({ signInName: SignInName, passPhrase: z.string().min(1).max(200) });
export const SignInByLink = z.strictObject({ token: Token });
export const NewPassPhrase = z.strictObject({ token: Token, passPhrase: PassPhrase });

export const Me = z.object({ id: Id, displayName: z.string(), signInName: z.string(), role: Role });
export type Me = z.infer<typeof Me>;

export const Person = Me.extend({
  active: z.boolean(),
  hasPassPhrase: z.boolean(),
  version: z.number().int(),
  badge: z.string(),
});
export type Person = z.infer<typeof Person>;
export const People = z.object({ people: z.array(Person) });
export const AddPerson = z.strictObject({ id: Id, displayName: RequiredText, signInName: SignInName, role: Role });
export const EditPerson = z.strictObject({ displayName: RequiredText, role: Role, active: z.boolean() });
/** A one-time link with which somebody sets a pass phrase. */
export const OneTimeLink = z.object({ path: z.string(), expiresAt: z.string() });
