import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { LabelChanged, PutLabelOn, ReplaceLabel } from '@corewright/contracts/label-changes';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, invariant, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { claimCode, giveCode } from '../../scanning/code-register.js';
import { type LiveCode, liveCodesOf, logLabelChange, voidCode } from '../../scanning/label-changes.js';
import { type Bearer, lockBearerOf, tellOfLabel } from './bearer.js';
import { labelsBorne } from './labels-borne.queries.js';

/** Labels that are put on, replaced and taken off what bears them. Each change stays on the record. */
@Injectable()
export class ChangeLabels {
  constructor(private readonly clock: WorkshopClock) {}

  /** A label is lost or spoiled: it is void from then on, and a blank one or a new one takes its place. */
  async replace(transaction: Transaction, text: string, { was, code, note }: ReplaceLabel): Promise<Result<LabelChanged>> {
    const locked = await lockBearerOf(transaction, text);
    if (!locked.ok) return locked;
    const { label, bearer } = locked.value;
    const put = await this.putOn(transaction, label, code);
    if (!put.ok) return put;
    const by = put.value;
    const words = `It was on ${bearer.name}: this label was ${was}, and ${formatCode(by)} took its place on ${await this.onDay(transaction)}`;
    await voidCode(transaction, label, words);
    const why = note === '' ? was : `${was}: ${note}`;
    logLabelChange(transaction, { subjectId: bearer.id, code: label.code, kind: 'replaced', by, why });
    return answer(transaction, bearer, by, `${formatCode(label.code)} is void. ${bearer.name} is now ${formatCode(by)}.`);
  }

  /** A second label beside the first: both open the same thing. */
  async putFurther(transaction: Transaction, text: string, { code, why }: PutLabelOn): Promise<Result<LabelChanged>> {
    const locked = await lockBearerOf(transaction, text);
    if (!locked.ok) return locked;
    const { label, bearer } = locked.value;
    const put = await this.putOn(transaction, label, code);
    if (!put.ok) return put;
    logLabelChange(transaction, { subjectId: bearer.id, code: put.value, kind: 'put on', why });
    return answer(transaction, bearer, put.value, `${bearer.name} bears ${formatCode(put.value)} too: both labels open it.`);
  }

  /** One of several labels is taken off; the last one is only replaced. */
  async takeOff(transaction: Transaction, text: string, why: string): Promise<Result<LabelChanged>> {
    const locked = await lockBearerOf(transaction, text);
    if (!locked.ok) return locked;
    const { label, bearer } = locked.value;
    const [stays] = (await liveCodesOf(transaction, bearer.id)).filter(({ code }) => code !== label.code);
    if (stays === undefined) return refused(lastLabel(bearer, label));
    await voidCode(transaction, label, `It was on ${bearer.name}, and was taken off on ${await this.onDay(transaction)}: ${why}`);
    logLabelChange(transaction, { subjectId: bearer.id, code: label.code, kind: 'taken off', why });
    return answer(
      transaction,
      bearer,
      stays.code,
      `${formatCode(label.code)} is void. ${bearer.name} is ${formatCode(stays.code)}.`,
    );
  }

  /** Borne beside those that it bears, until one of them is void. */
  private async putOn(transaction: Transaction, { kind, subjectId }: LiveCode, blank: string | null): Promise<Result<LabelCode>> {
    if (blank !== null) return claimCode(transaction, kind, subjectId, blank, true);
    return done(await giveCode(transaction, kind, subjectId, true));
  }

  private async onDay(transaction: Transaction): Promise<string> {
    const today = formatPlainDate(await this.clock.today(transaction));
    return `${today} by ${transaction.command.person.displayName}`;
  }
}

async function answer(transaction: Transaction, bearer: Bearer, code: LabelCode, words: string): Promise<Result<LabelChanged>> {
  tellOfLabel(transaction, bearer);
  const borne = await labelsBorne(transaction, bearer.id);
  invariant(borne, 'what was labelled is in the books');
  return done({ code, words, borne });
}

function lastLabel(bearer: Bearer, { code }: LiveCode): Refusal {
  return {
    status: 409,
    code: 'last-label',
    title: 'Its only label',
    detail: `${formatCode(code)} is the only label of ${bearer.name}, and without one nothing could be scanned onto it. Replace it by another instead. Nothing was changed.`,
    values: { code },
  };
}
