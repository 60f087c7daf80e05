import type { LabelBorne, LabelsBorne } from '@corewright/contracts/label-changes';
import { useQuery } from '@tanstack/react-query';
import { useWorksWithThings } from '../../api/session.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { Timeline } from '../../ui/Timeline.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { FurtherLabelForm } from './FurtherLabelForm.js';
import { labelsBorneQuery, useTakeLabelOff } from './label-change-actions.js';

/** Every code that a thing or a place bears or bore, since when, and why it is void; a lost one is replaced from here. */
export function LabelsOf({ subjectId }: { readonly subjectId: string }) {
  const borne = useQuery(labelsBorneQuery(subjectId));
  return (
    <Section title="Labels of this" aside={borne.data === undefined ? undefined : countOf(borne.data)}>
      {borne.isPending && <Waiting>Fetching its labels …</Waiting>}
      {borne.isError && <Failure error={borne.error} word="Not shown" />}
      {borne.data !== undefined && <Borne borne={borne.data} />}
    </Section>
  );
}

type InHand = { readonly what: 'further' } | { readonly what: 'off'; readonly code: string };

function Borne({ borne }: { readonly borne: LabelsBorne }) {
  const { which: inHand, open, close } = useOneForm<InHand>();
  const mayChange = useWorksWithThings();
  const live = borne.labels.filter(isLive);
  return (
    <>
      <Table caption="Labels of this" columns={COLUMNS} rows={borne.labels} rowKey={({ code }) => code} />
      {mayChange && inHand === null && (
        <Acts>
          {live.map(({ code }) => (
            <ButtonLink key={code} href={`/labels/${code}/replace`}>
              Lost or spoiled{live.length > 1 && `: ${code}`}
            </ButtonLink>
          ))}
          {live.length > 1 &&
            live.map(({ code }) => (
              <Button key={code} onPress={() => open({ what: 'off', code })}>
                Take off {code}
              </Button>
            ))}
          {live.length > 0 && <Button onPress={() => open({ what: 'further' })}>A further label</Button>}
        </Acts>
      )}
      {inHand?.what === 'further' && live[0] !== undefined && <FurtherLabelForm code={live[0].code} onClose={close} />}
      {inHand?.what === 'off' && <TakeOffForm key={inHand.code} code={inHand.code} onClose={close} />}
      {borne.changes.length > 0 && (
        <Timeline
          label="What became of its labels"
          entries={borne.changes.map(({ id, at, by, words, why }) => ({
            id,
            when: sayInstant(at, new Date()),
            words: (
              <>
                {words} <span className="quiet">{[why, by].filter((each) => each !== '').join(', ')}</span>
              </>
            ),
          }))}
        />
      )}
    </>
  );
}

function TakeOffForm({ code, onClose }: { readonly code: string; readonly onClose: () => void }) {
  const taking = useTakeLabelOff(code);
  return (
    <WhyForm
      label={`Take off ${code}`}
      question={`Why ${code} is taken off`}
      note="it is void after that and says what it was on; the others stay"
      act="Take it off"
      isGrave
      failed="Not taken off"
      sending={taking}
      onWhy={(why) => taking.mutate(why, { onSuccess: onClose })}
      onClose={onClose}
    />
  );
}

const COLUMNS: readonly Column<LabelBorne>[] = [
  { key: 'code', head: 'code', isLead: true, cell: (label) => <Code code={label.code} size="row" /> },
  { key: 'state', head: 'state', cell: (label) => <b>{STATES[label.state]}</b> },
  { key: 'since', head: 'since', cell: (label) => sayInstant(label.givenAt, new Date()) },
  { key: 'words', head: 'what to know', isWide: true, cell: (label) => <Words label={label} /> },
];

function Words({ label }: { readonly label: LabelBorne }) {
  if (label.opens !== null)
    return (
      <>
        it opens{' '}
        <Go href={`/stores/things/${label.opens.id}`}>
          <Code code={label.opens.code} size="row" /> {label.opens.name}
        </Go>
      </>
    );
  return <>{label.state === 'void' ? label.words : printedWords(label)}</>;
}

function printedWords({ printed }: LabelBorne): string {
  if (printed === 0) return 'not printed yet';
  return printed === 1 ? 'printed once' : `printed ${printed} times`;
}

const STATES: Readonly<Record<LabelBorne['state'], string>> = {
  shown: 'in use',
  further: 'in use, a further one',
  void: 'void',
  'went over': 'gone over to another lot',
};

function isLive({ state }: LabelBorne): boolean {
  return state === 'shown' || state === 'further';
}

function countOf({ labels }: LabelsBorne): string {
  const [inUse, void_] = [labels.filter(isLive).length, labels.filter(({ state }) => state === 'void').length];
  return void_ === 0 ? `${inUse} in use` : `${inUse} in use, ${void_} void`;
}
