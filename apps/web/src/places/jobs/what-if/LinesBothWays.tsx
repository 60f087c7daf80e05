import type { LineStanding, WhatIfLine } from '@corewright/contracts/what-if';
import { Critical } from '../../../ui/Critical.js';
import { Go } from '../../../ui/Go.js';
import { type Column, Table } from '../../../ui/Table.js';
import { CoverShares } from '../CoverShares.js';
import { GoesBefore } from '../GoesBefore.js';
import { TurnWord } from './TurnWord.js';
import styles from './WhatIf.module.css';

const COLUMNS: readonly Column<WhatIfLine>[] = [
  { key: 'line', head: 'line', isLead: true, width: '28%', cell: (line) => <LineNamed line={line} /> },
  { key: 'before', head: 'as it is', isWide: true, width: '27%', cell: ({ before }) => <Standing standing={before} /> },
  { key: 'after', head: 'as it would be', isWide: true, width: '30%', cell: ({ after }) => <Standing standing={after} /> },
  { key: 'turn', head: 'which is', cell: ({ turn }) => <TurnWord turn={turn} /> },
];

/** The lines that would be covered otherwise, what stands worse first. */
export function LinesBothWays({ lines }: { readonly lines: readonly WhatIfLine[] }) {
  const order = ['worse', 'both', 'better', 'otherwise'];
  const sorted = lines.toSorted((one, other) => order.indexOf(one.turn) - order.indexOf(other.turn) || one.lineNo - other.lineNo);
  return <Table caption="Lines that would be covered otherwise" columns={COLUMNS} rows={sorted} rowKey={({ id }) => id} />;
}

function LineNamed({ line }: { readonly line: WhatIfLine }) {
  const stops = line.before.stops || line.after.stops;
  return (
    <>
      <span className="quiet">{line.lineNo}</span> <span className="pn">{line.part.number}</span>{' '}
      <Go href={`/stores/parts/${line.part.id}`}>{line.part.name}</Go>, needs {line.needed}
      {line.part.unitOfMeasure === 'each' ? '' : ` ${line.part.unitOfMeasure}`} {line.critical && <Critical stops={stops} />}
    </>
  );
}

function Standing({ standing }: { readonly standing: LineStanding }) {
  return (
    <span className={styles.standing}>
      <CoverShares shares={standing.shares} />
      {standing.elsewhere.map((each) => (
        <span key={`${each.job.id} ${each.words}`} className={styles.why}>
          <GoesBefore elsewhere={each} />
        </span>
      ))}
    </span>
  );
}
