import type { EditSign, SignKept } from '@corewright/contracts/identify';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { Failure } from '../../ui/Problem.js';
import { Photographs } from '../photographs/Photographs.js';
import { TakePhotographs } from '../photographs/TakePhotographs.js';
import { usePutSign } from './actions.js';
import { KnownNumbersForm } from './KnownNumbersForm.js';
import { OfUnitType } from './OfUnitType.js';
import { knownByQuery } from './queries.js';
import styles from './SettingsScreen.module.css';
import { SignForm } from './SignForm.js';

/** What a unit type is known by: signs with their photographs, serial numbers, teeth. */
export function KnownBySection() {
  return (
    <OfUnitType
      title="What a unit type is known by"
      words="Looked for on a unit that nobody has identified. What was said of units by a sign stays as it was said."
    >
      {(typeId) => <KnownByOf key={typeId} typeId={typeId} />}
    </OfUnitType>
  );
}

function KnownByOf({ typeId }: { readonly typeId: string }) {
  const found = useQuery(knownByQuery(typeId));
  const [isAdding, setAdding] = useState(false);
  if (found.isPending) return <Waiting>What it is known by is being fetched.</Waiting>;
  if (found.data === undefined) return <Failure word="Not shown" error={found.error} />;
  const { signs } = found.data;
  return (
    <div className={styles.stack}>
      <div>
        {signs.map((sign) => (
          <Fold key={sign.id} summary={summaryOf(sign)}>
            <SignKeptHere typeId={typeId} sign={sign} />
          </Fold>
        ))}
      </div>
      {isAdding ? (
        <NewSign typeId={typeId} onDone={() => setAdding(false)} />
      ) : (
        <Acts>
          <Button onPress={() => setAdding(true)}>Add a sign</Button>
        </Acts>
      )}
      <KnownNumbersForm known={found.data} />
    </div>
  );
}

/** What a sign is, in one line: "casting 48 B 6, on the carrier, 1938 to 1946; good". */
export function sayOfSign({ kind, position, pattern, words }: Pick<SignKept, 'kind' | 'position' | 'pattern' | 'words'>): string {
  if (kind === 'feature') return words;
  if (kind === 'count') return `${pattern} ${position}`;
  return `${kind} ${pattern}${position === '' ? '' : `, ${position}`}`;
}

function summaryOf(sign: SignKept): string {
  const { yearFirst, yearLast, weight, withdrawn, pictures } = sign;
  const years = yearFirst === null && yearLast === null ? '' : `, ${yearFirst ?? '…'} to ${yearLast ?? '…'}`;
  const standing = pictures.filter(({ struckOut }) => struckOut === null).length;
  const photographs = standing === 0 ? '' : `; ${standing === 1 ? '1 photograph' : `${standing} photographs`}`;
  return `${sayOfSign(sign)}${years}; ${withdrawn ? 'withdrawn' : weight}${photographs}`;
}

function SignKeptHere({ typeId, sign }: { readonly typeId: string; readonly sign: SignKept }) {
  const put = usePutSign(typeId);
  const { id, version, pictures, ...kept } = sign;
  const withdraw = () => put.mutate({ id, version, sign: { ...kept, withdrawn: !sign.withdrawn } });
  const standing = pictures.filter(({ struckOut }) => struckOut === null).length;
  return (
    <div className={styles.stack}>
      <Photographs pictures={pictures} subject={sayOfSign(sign)} subjectIds={[id]} />
      <Acts>
        <TakePhotographs subjectId={id} taken={standing} />
        <Button
          look="plain"
          isPending={put.isPending}
          label={`${sign.withdrawn ? 'Look for it again' : 'Withdraw'}: ${sayOfSign(sign)}`}
          onPress={withdraw}
        >
          {sign.withdrawn ? 'Look for it again' : 'Withdraw'}
        </Button>
      </Acts>
      {put.error !== null && <Failure word="Not kept" error={put.error} />}
      <SignForm
        key={version}
        typeId={typeId}
        id={id}
        version={version}
        sign={kept}
        label={`Change ${sayOfSign(sign)}`}
        onDone={() => undefined}
      />
    </div>
  );
}

const noSign: EditSign = {
  kind: 'stamp',
  position: '',
  pattern: '',
  yearFirst: null,
  yearLast: null,
  words: '',
  weight: 'good',
  withdrawn: false,
};

function NewSign({ typeId, onDone }: { readonly typeId: string; readonly onDone: () => void }) {
  const [id] = useState(newKey);
  return <SignForm typeId={typeId} id={id} version={null} sign={noSign} label="A new sign" onDone={onDone} onLeave={onDone} />;
}
