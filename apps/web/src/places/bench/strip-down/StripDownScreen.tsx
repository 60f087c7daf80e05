import type { StripComponent, StripDown, StripFinding, StripFindingDone } from '@corewright/contracts/cores';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { resolve } from '../../../scan/resolve.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { CautionLine } from '../../../ui/CautionLine.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead } from '../../../ui/Section.js';
import { useBeginStripDown } from './actions.js';
import { ComponentRow } from './ComponentRow.js';
import { FindingForm } from './FindingForm.js';
import { stripDownQuery } from './queries.js';
import styles from './StripDown.module.css';
import { StripDownHead } from './StripDownHead.js';

/** A unit opened on the bench: its components, to be worked down one by one. */
export function StripDownScreen({ unitId }: { readonly unitId: string }) {
  const found = useQuery(stripDownQuery(unitId));
  if (found.isPending) return <Waiting>Fetching the strip-down …</Waiting>;
  if (found.data === undefined)
    return (
      <Failure error={found.error} word="Not shown" choices={<Button onPress={() => void found.refetch()}>Try again</Button>} />
    );
  const { stripDown, cannotBegin } = found.data;
  if (stripDown === null) return <NotBegun unitId={unitId} cannotBegin={cannotBegin} />;
  return <StripDownShown key={stripDown.id} strip={stripDown} />;
}

function NotBegun({ unitId, cannotBegin }: { readonly unitId: string; readonly cannotBegin: string | null }) {
  const begin = useBeginStripDown(unitId);
  return (
    <>
      <PageHead title="Strip-down" />
      {cannotBegin === null ? (
        <Empty
          title="Nobody has opened it yet"
          choices={
            <Button look="main" onPress={() => begin.mutate(null)} isPending={begin.isPending}>
              Begin to strip it
            </Button>
          }
        >
          What comes out of it is then recorded as it comes: the exceptions one by one, the rest by one press.
        </Empty>
      ) : (
        <Empty title="It cannot be stripped now" choices={<ButtonLink href={`/stores/things/${unitId}`}>To the unit</ButtonLink>}>
          {cannotBegin}
        </Empty>
      )}
      {begin.error !== null && <Failure error={begin.error} word="Not begun" />}
      <StripCaution />
    </>
  );
}

function StripCaution() {
  return (
    <div className={styles.caution}>
      <CautionLine>
        Castings are heavy, and springs bite. Old gaskets and linings can hold asbestos: no air line, wipe wet. Follow the maker’s
        manual, local codes and qualified practice.
      </CautionLine>
    </div>
  );
}

/** What is open: a component to be recorded, a finding to be put right, or something extra. */
interface Opened {
  readonly position: number | null;
  readonly putRight: StripFinding | null;
}

function StripDownShown({ strip }: { readonly strip: StripDown }) {
  const [opened, setOpened] = useState<Opened | null>(null);
  const [placeId, setPlaceId] = useState<string | null>(null);
  const [said, setSaid] = useState<{ done: StripFindingDone | null; words: string } | null>(null);
  const mayRecord = useWorksWithThings() && strip.closedAt === null;
  const open = (position: number | null, putRight: StripFinding | null = null) => setOpened({ position, putRight });

  useScanTaker((parsed) => {
    if (parsed.kind === 'P') {
      void resolve(parsed.code).then(
        ({ answer }) => {
          setPlaceId(answer.id);
          setSaid({ done: null, words: `What is kept goes to ${answer.where}.` });
        },
        () => setSaid({ done: null, words: 'That place is not in the books. Scan another.' }),
      );
      return true;
    }
    if (parsed.kind !== 'C') return false;
    const component = strip.components.find((each) => tagsOf(each).includes(parsed.code));
    if (component === undefined) {
      setSaid({ done: null, words: 'That tag is of another unit: a component comes out of one unit only. Nothing was changed.' });
      return true;
    }
    const finding = component.findings.find((each) => !each.superseded && each.thing?.code === parsed.code) ?? null;
    open(component.position, finding);
    return true;
  });

  const done = (answer: StripFindingDone) => {
    setSaid({ done: answer, words: '' });
    setOpened(null);
  };
  const form = (component: StripComponent | null) => (
    <FindingForm
      key={`${component?.position ?? 'extra'} ${opened?.putRight?.id ?? ''}`}
      strip={strip}
      component={component}
      putRight={opened?.putRight ?? null}
      placeId={placeId}
      onPlace={setPlaceId}
      onDone={done}
      onClose={() => setOpened(null)}
    />
  );

  return (
    <>
      <StripDownHead strip={strip} mayRecord={mayRecord} placeId={placeId} onPlace={setPlaceId} />
      <StripCaution />
      <div role="status">{said !== null && <Said said={said} />}</div>
      <ol className={styles.rows} aria-label="Components">
        {strip.components.map((component) => (
          <ComponentRow
            key={component.position}
            component={component}
            isOpen={opened?.position === component.position}
            mayRecord={mayRecord}
            onOpen={() => (opened?.position === component.position ? setOpened(null) : open(component.position))}
            onPutRight={(finding) => open(component.position, finding)}
          >
            {mayRecord && opened?.position === component.position && form(component)}
          </ComponentRow>
        ))}
      </ol>
      {strip.components.length === 0 && (
        <p className="read">
          Nobody has said what a unit of this type consists of, so everything is recorded as it comes out. Name the type first if
          it is known.
        </p>
      )}
      {mayRecord && (
        <div className={styles.foot}>
          {opened !== null && opened.position === null ? (
            form(null)
          ) : (
            <Acts>
              <Button onPress={() => open(null)}>Something extra was in it</Button>
            </Acts>
          )}
        </div>
      )}
    </>
  );
}

function tagsOf({ takenBefore, findings }: StripComponent): string[] {
  return [...takenBefore.map((each) => each.code), ...findings.flatMap(({ thing }) => (thing === null ? [] : [thing.code]))];
}

/** What the last act came to. */
function Said({ said: { done, words } }: { readonly said: { done: StripFindingDone | null; words: string } }) {
  const { finding, thing, cover, cost, keptSet } = done ?? {};
  return (
    <div className={styles.said}>
      {words !== '' && <p>{words}</p>}
      {finding !== undefined && (
        <p>
          <b>{finding.name}</b>: {finding.disposition ?? 'missing'}.
        </p>
      )}
      {[keptSet, cover, cost].map((each) => each !== null && each !== undefined && <p key={each}>{each}</p>)}
      {thing !== null && thing !== undefined && finding?.disposition !== 'scrap' && (
        <Acts>
          <ButtonLink href={`/labels/${thing.code}`}>Its label</ButtonLink>
        </Acts>
      )}
    </div>
  );
}
