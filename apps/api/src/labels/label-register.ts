import type { LabelCode, LabelKind } from '@corewright/codes/label-code';
import { Injectable } from '@nestjs/common';
import type { Reader } from '../platform/database/database.js';
import { invariant } from '../platform/refusal.js';
import { blankSubjects } from './blanks/code-block.queries.js';
import type { LabelSubject } from './label-subject.js';

/** Says what stands on the labels of these codes, all of one kind; a code that it does not know is left out. */
export type LabelSource = (reader: Reader, codes: readonly LabelCode[]) => Promise<ReadonlyMap<LabelCode, LabelSubject>>;

/** The live codes of a load's rows in the order of their lines; null where there is no such load. */
export type LoadCodes = (reader: Reader, loadId: string) => Promise<LabelCode[] | null>;

/** What stands on a label is known to the area whose thing it is: each registers its kind letters here. */
@Injectable()
export class LabelRegister {
  private readonly sources = new Map<LabelKind, LabelSource>();
  private loadCodes: LoadCodes | null = null;

  register(kinds: readonly LabelKind[], source: LabelSource): void {
    for (const kind of kinds) {
      invariant(!this.sources.has(kind), `one writer for labels of kind ${kind}`);
      this.sources.set(kind, source);
    }
  }

  registerLoads(source: LoadCodes): void {
    this.loadCodes = source;
  }

  async codesOfLoad(reader: Reader, loadId: string): Promise<LabelCode[] | null> {
    return (await this.loadCodes?.(reader, loadId)) ?? null;
  }

  /** The labels of codes of any kinds, of blank ones too. */
  async subjectsOf(reader: Reader, codes: readonly LabelCode[]): Promise<ReadonlyMap<LabelCode, LabelSubject>> {
    const subjects = new Map(await blankSubjects(reader, codes));
    for (const [kind, source] of this.sources) {
      const ofKind = codes.filter((code) => code.startsWith(kind));
      if (ofKind.length === 0) continue;
      for (const [code, subject] of await source(reader, ofKind)) subjects.set(code, subject);
    }
    return subjects;
  }
}
