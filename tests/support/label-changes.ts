import { newId } from '../../apps/api/src/platform/new-id.js';
import type { LabelChanged, LabelsBorne } from '../../libs/contracts/src/label-changes.js';
import type { BlankKind, CodeBlock } from '../../libs/contracts/src/labels.js';
import type { LotRegrouped, Regroupings } from '../../libs/contracts/src/regrouping.js';
import type { Answer, Visitor } from './bare-server.js';

/** What was answered, or why it was refused. */
export type Changed<Done> = Done & { code: string; detail: string; title: string; values?: Record<string, unknown> };

/** Labels that are put on, replaced and taken off, and lots that are parted and joined, as somebody does it from a screen. */
export class LabelDesk {
  constructor(private readonly person: Visitor) {}

  /** Blank labels of a kind that nothing bears yet. */
  async blanks(kind: BlankKind, count: number): Promise<string[]> {
    const { status, body } = await this.person.post<CodeBlock>('/api/code-blocks', { id: newId(), kind, count });
    if (status !== 200) throw new Error(`No codes were set aside: ${status}`);
    return body.free;
  }

  replace(
    code: string,
    by: string | null,
    was: 'lost' | 'spoiled' = 'lost',
    key = newId(),
  ): Promise<Answer<Changed<LabelChanged>>> {
    return this.person.post(`/api/labels/${code}/replacement`, { was, code: by, note: '' }, { key });
  }

  putFurther(code: string, blank: string | null): Promise<Answer<Changed<LabelChanged>>> {
    return this.person.post(`/api/labels/${code}/further`, { code: blank, why: 'one for the paperwork' });
  }

  takeOff(code: string): Promise<Answer<Changed<LabelChanged>>> {
    return this.person.post(`/api/labels/${code}/taking-off`, { why: 'it came off in the bath' });
  }

  async borne(subjectId: string): Promise<LabelsBorne> {
    return (await this.person.get<LabelsBorne>(`/api/label-bearers/${subjectId}`)).body;
  }

  /** @param code a blank label, or one of several that the lot bears; null: a new one */
  split(
    lotId: string,
    quantity: string,
    placeId: string,
    code: string | null = null,
    key = newId(),
  ): Promise<Answer<Changed<LotRegrouped>>> {
    const body = { id: newId(), quantity, placeId, code, why: 'two bags under one label' };
    return this.person.post(`/api/things/${lotId}/splitting`, body, { key });
  }

  /** @param into a label of the lot that stays */
  merge(lotId: string, into: string, key = newId()): Promise<Answer<Changed<LotRegrouped>>> {
    return this.person.post(`/api/things/${lotId}/merging`, { into, why: 'one bag that was labelled twice' }, { key });
  }

  /** What was split off is said to be something else. @param version as of If-Match */
  putRight(lotId: string, facts: Record<string, unknown>, version?: number): Promise<Answer<Changed<{ id: string }>>> {
    const body = {
      partId: null,
      words: '',
      make: 'genuine',
      makerName: '',
      marks: '',
      condition: 'as new',
      packetRead: '',
      packetCondition: 'none',
      why: 'another maker’s',
      ...facts,
    };
    return this.person.post(`/api/things/${lotId}/putting-right`, body, version === undefined ? {} : { ifMatch: version });
  }

  async regroupings(lotId: string): Promise<Regroupings> {
    return (await this.person.get<Regroupings>(`/api/things/${lotId}/regroupings`)).body;
  }

  /** What a scan that only looks says. */
  async scan(code: string): Promise<Changed<{ id: string; name: string }>> {
    return (await this.person.get<Changed<{ id: string; name: string }>>(`/api/scan/${code}`)).body;
  }
}
