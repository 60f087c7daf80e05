import type { SalePreviewLine, SaleStop } from '@corewright/contracts/selling';
import { useQuery } from '@tanstack/react-query';
import { useKeepsBooks } from '../../../api/session.js';
import { sayCode } from '../../../scan/acts.js';
import { Acts, Button } from '../../../ui/Button.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { MiniTag } from '../../../ui/Tag.js';
import { TextField } from '../../../ui/TextField.js';
import styles from './Counter.module.css';
import { LiftKept } from './KeptForJobs.js';
import { keptForJobsQuery } from './queries.js';
import type { LineKeyed } from './receipt-draft.js';

export interface SellLineProps {
  readonly line: LineKeyed;
  readonly currency: string;
  /** what was found out about it; absent while that is on its way */
  readonly shown: SalePreviewLine | undefined;
  readonly onChange: (more: Partial<LineKeyed>) => void;
  readonly onStrike: () => void;
  readonly onAdd: (thing: Pick<LineKeyed, 'thingId' | 'code' | 'name'>) => void;
}

/** One label on the receipt: how many, for how much, and what stands in the way. */
export function SellLine({ line, currency, shown, onChange, onStrike, onAdd }: SellLineProps) {
  const mayLetGo = useKeepsBooks();
  const stops = shown?.stops ?? [];
  const isLetGo = stops.length > 0 && stops.every(({ mayBeLetGo }) => mayBeLetGo);
  return (
    <li className={styles.line} aria-label={`${line.name}, ${line.code}`}>
      <div className={styles.head}>
        <MiniTag code={line.code} href={`/stores/things/${line.thingId}`} /> <b>{line.name}</b>
        {shown !== undefined && <span className="quiet">{hereOf(shown)}</span>}
        <Button look="plain" label={`Strike out ${line.code}`} onPress={onStrike}>
          Strike out
        </Button>
      </div>
      {stops.map((stop) => (
        <Stopped key={stop.code} stop={stop} thingId={line.thingId} />
      ))}
      {shown !== undefined && shown.goesWith.length > 0 && stops.some(({ code }) => code === 'kept-set-not-whole') && (
        <Acts>
          {shown.goesWith.map(({ id, code, name }) => (
            <Button key={id} onPress={() => onAdd({ thingId: id, code, name })}>
              Put {name}, {sayCode(code)}, on this receipt too
            </Button>
          ))}
        </Acts>
      )}
      {shown?.takes.map(({ job, quantity, dateGiven }) => (
        <p key={job.id}>
          <b>{quantity}</b> of it {quantity === '1' ? 'is' : 'are'} reserved for “{job.name}”, {sayCode(job.code)}
          {dateGiven === null ? '' : `, promised for ${dateGiven}`}, and would be taken from it.
        </p>
      ))}
      <div className={styles.fields}>
        <QuantityField
          label={`How many of ${sayCode(line.code)}`}
          value={line.quantity}
          onChange={(quantity) => onChange({ quantity })}
          unit={shown?.unitOfMeasure ?? 'each'}
        />
        <TextField
          label={`Price of ${sayCode(line.code)}`}
          value={line.price}
          onChange={(price) => onChange({ price })}
          inputMode="decimal"
          note={`${currency}, for all of this line`}
          maxLength={40}
        />
        {isLetGo && mayLetGo && (
          <TextField
            label={`Why ${sayCode(line.code)} is let go`}
            value={line.letGo}
            onChange={(letGo) => onChange({ letGo })}
            note="the receipt prints it, with your name"
            maxLength={200}
          />
        )}
      </div>
    </li>
  );
}

function Stopped({ stop, thingId }: { readonly stop: SaleStop; readonly thingId: string }) {
  return (
    <div className={styles.stop}>
      <p>
        <b>{stop.title}.</b> {stop.words}
      </p>
      {stop.code === 'kept-for-own-jobs' && <LiftHere thingId={thingId} />}
    </div>
  );
}

function LiftHere({ thingId }: { readonly thingId: string }) {
  const kept = useQuery(keptForJobsQuery({ thingId })).data?.kept ?? [];
  const mayLift = useKeepsBooks();
  return <>{mayLift && kept.map((each) => <LiftKept key={each.id} kept={each} />)}</>;
}

/** "3 here, 2 free, in Stores, Bin 4" */
function hereOf({ here, free, where }: SalePreviewLine): string {
  return [`${here} here`, free === here ? '' : `${free} free`, where].filter((each) => each !== '').join(', ');
}
