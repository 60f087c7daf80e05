import type { LabelText } from '@corewright/contracts/labels';
import { Injectable } from '@nestjs/common';
import { Database } from '../platform/database/database.js';
import { RefusalError } from '../platform/refusal.js';
import { readCode, whyNothingOpens } from '../scanning/resolve-code.js';
import { LabelRegister } from './label-register.js';

const liveCode = `
  SELECT (SELECT count(*)::integer FROM label_prints WHERE label_prints.code = $1) AS "printedBefore"
   WHERE EXISTS (SELECT 1 FROM codes WHERE code = $1 AND voided_at IS NULL)
      OR (EXISTS (SELECT 1 FROM blank_codes WHERE code = $1) AND NOT EXISTS (SELECT 1 FROM codes WHERE code = $1))`;

/** What stands on one label, for its proof on the screen: of several, the first. */
@Injectable()
export class LabelTexts {
  constructor(
    private readonly database: Database,
    private readonly register: LabelRegister,
  ) {}

  /** @throws RefusalError where no label can bear that code */
  async of(text: string): Promise<LabelText> {
    const read = readCode(text);
    if (!read.ok) throw new RefusalError(read.error);
    const { code } = read.value;
    const live = await this.database.row<{ printedBefore: number }>(liveCode, [code]);
    const subject = live === null ? undefined : (await this.register.subjectsOf(this.database, [code])).get(code);
    if (live === null || subject === undefined) throw new RefusalError(await whyNothingOpens(this.database, read.value));
    const [model] = subject.models;
    return {
      code,
      corner: model.corner ?? '',
      badge: model.badge ?? '',
      title: model.title,
      subtitle: model.subtitle ?? '',
      facts: [...(model.facts ?? [])],
      foot: [...(model.footer ?? [])],
      warning: model.warning ?? null,
      prominent: model.prominent ?? false,
      stock: subject.stock,
      copies: subject.models.length,
      printedBefore: live.printedBefore,
    };
  }
}
