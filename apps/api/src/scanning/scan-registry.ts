import type { LabelCode, LabelKind } from '@corewright/codes/label-code';
import type { ScanAnswer } from '@corewright/contracts/scanning';
import { Injectable } from '@nestjs/common';
import type { Reader } from '../platform/database/database.js';
import { invariant } from '../platform/refusal.js';

/** Says what a live code of one kind is on; null where no live code of this text is known. */
export type Opener = (reader: Reader, code: LabelCode) => Promise<ScanAnswer | null>;

/** What each kind letter opens. An area registers its own kinds; scanning knows none of them. */
@Injectable()
export class ScanRegistry {
  private readonly openers = new Map<LabelKind, Opener>();

  register(kind: LabelKind, opener: Opener): void {
    invariant(!this.openers.has(kind), `one opener for codes of kind ${kind}`);
    this.openers.set(kind, opener);
  }

  openerOf(kind: LabelKind): Opener | null {
    return this.openers.get(kind) ?? null;
  }
}
