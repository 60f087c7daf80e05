import { describePacketDate, readPacketDate } from '@corewright/quantities/packet-date';
import { parsePlainDate } from '@corewright/quantities/plain-date';
import { type BearingPacking, type BearingStorageState, bearingStorageState } from '@corewright/standards/bearing-storage';
import { useState } from 'react';
import { FieldPair, Form } from '../../ui/Form.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { PageHead, Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { dayOf } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { bearingStores, packings, type StoreChoice, storeOf } from '../stores/bearing-choices.js';
import styles from './Bearings.module.css';
import { CrossReferencePages } from './CrossReferencePages.js';

const stateWords: Readonly<Record<BearingStorageState, string>> = {
  'in-life': 'Within its storage period',
  'look-again': 'Look again before it is fitted',
  past: 'Past its storage period',
  unknown: 'Nobody can say',
};

/** How long an old bearing keeps in its packet. Reckoned on the device; nothing is sent. */
export function BearingPacketScreen() {
  const [asRead, setAsRead] = useState('');
  const [packing, setPacking] = useState<BearingPacking>('open-preserved');
  const [store, setStore] = useState<StoreChoice>('not known');
  const [inspectedOn, setInspectedOn] = useState('');
  const today = dayOf(new Date());
  const packet = readPacketDate(asRead, { material: 'other', today });
  const inspected = inspectedOn === '' ? null : parsePlainDate(inspectedOn);
  const kept =
    packet.ok && inspected?.ok !== false
      ? bearingStorageState(
          {
            packing,
            store: storeOf(store),
            isClosed: true,
            packedEarliest: packet.value.earliest,
            inspectedOn: inspected?.value ?? null,
          },
          today,
        )
      : null;
  return (
    <>
      <PageHead title="Cross-reference" note="What it is, and what else will serve." />
      <CrossReferencePages />
      <Section title="A bearing in its packet">
        <Form label="A bearing in its packet" onSubmit={() => undefined}>
          <FieldPair>
            <TextField
              label="Date on the packet"
              value={asRead}
              onChange={setAsRead}
              maxLength={40}
              note={packet.ok ? describePacketDate(packet.value) : 'as it is printed: 12 May 1956, 3/53, 1949'}
              error={packet.ok ? null : packet.error.sentence}
            />
            <SelectField label="How it was stored" value={store} choices={bearingStores} onChange={setStore} />
          </FieldPair>
          <RadioRow label="The bearing is" value={packing} choices={packings} onChange={setPacking} />
          <TextField
            label="Inspected and preserved anew on"
            type="date"
            value={inspectedOn}
            onChange={setInspectedOn}
            note="empty if nobody did; counts for open bearings only"
          />
        </Form>
      </Section>
      {kept !== null && (
        <Section title={stateWords[kept.state]} aside="by the least favourable reading">
          <div className={styles.stack} role="status">
            {kept.reasons.map((reason) => (
              <p key={reason}>{reason}</p>
            ))}
            <p className="quiet">
              Periods are those that makers of bearings publish for the shelf; they differ, and the maker's own word for this
              bearing goes before them.
            </p>
          </div>
        </Section>
      )}
    </>
  );
}
