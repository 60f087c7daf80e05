import { parseCode } from '@corewright/codes/label-code';
import type { SearchHit } from '@corewright/contracts/stores';
import { useInfiniteQuery, useMutation, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { asProblem } from '../../api/problem.js';
import { resolve } from '../../scan/resolve.js';
import { useScanTaker } from '../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { TextField } from '../../ui/TextField.js';
import { partQuery, placeQuery, searchQuery } from '../stores/queries.js';
import styles from './LabelScreen.module.css';
import { borneByQuery } from './label-change-actions.js';

type BlankKind = 'unit' | 'lot' | 'unsorted';
const KINDS: Readonly<Record<string, BlankKind>> = { U: 'unit', L: 'lot', X: 'unsorted' };
const WORDS: Readonly<Record<BlankKind, string>> = { unit: 'a unit', lot: 'a lot', unsorted: 'a box of unsorted things' };

/** How long the keys must rest before the search goes out, in milliseconds. */
const REST_MS = 200;

export interface BlankLabelScreenProps {
  readonly code: string;
  /** something that has lost its label was found: its page for another label */
  readonly onFound: (path: string) => void;
}

/** A blank label in the hand: what can be done with it. */
export function BlankLabelScreen({ code, onFound }: BlankLabelScreenProps) {
  const scanned = useQuery(borneByQuery(code));
  const parsed = parseCode(code);
  const kind = parsed.ok ? KINDS[parsed.value.kind] : undefined;
  if (scanned.isPending) return <Waiting>Fetching what it is on …</Waiting>;
  if (scanned.data !== undefined)
    return (
      <Empty
        title="Not blank any more"
        choices={<ButtonLink href={`/stores/things/${scanned.data.id}`}>Look at {scanned.data.name}</ButtonLink>}
      >
        This label is on something by now.
      </Empty>
    );
  if (asProblem(scanned.error).code !== 'code-blank' || kind === undefined)
    return <Failure error={scanned.error} word="No blank label" />;
  return (
    <>
      <PageHead
        title={
          <>
            Blank label <Code code={code} />
          </>
        }
        note={`Nothing bears it yet. It is for ${WORDS[kind]}.`}
      />
      <Section title="For something new">
        <p>Open its load and scan this label there: that begins a row with it.</p>
        <Acts>
          <ButtonLink href="/goods-in">To Goods-in</ButtonLink>
        </Acts>
      </Section>
      <LostItsLabel blank={code} kind={kind} onFound={onFound} />
    </>
  );
}

interface LostProps {
  readonly blank: string;
  readonly kind: BlankKind;
  readonly onFound: (path: string) => void;
}

/** The thing is found by its other label, by the place where it lies, or by words. */
function LostItsLabel({ blank, kind, onFound }: LostProps) {
  const [typed, setTyped] = useState('');
  const [q, setQ] = useState('');
  const [placeId, setPlaceId] = useState<string | null>(null);
  useEffect(() => {
    const timer = setTimeout(() => setQ(typed.trim()), REST_MS);
    return () => clearTimeout(timer);
  }, [typed]);
  const hrefFor = (code: string) => `/labels/${code}/replace?${new URLSearchParams({ blank })}`;
  const scanning = useMutation({
    mutationFn: resolve,
    onSuccess: ({ answer }) => {
      if (answer.kind === 'place') setPlaceId(answer.id);
      else if (answer.kind === kind) onFound(hrefFor(answer.code));
    },
  });
  useScanTaker((parsed) => {
    if (parsed.kind === 'J' || parsed.kind === 'B') return false;
    if (parsed.code !== blank) scanning.mutate(parsed.code);
    return true;
  });
  const other = scanning.data?.answer;
  return (
    <Section title="For something that has lost its label" aside="find it, then this label takes the place of the lost one">
      <TextField
        label="Look for it, or scan its place or its other label"
        type="search"
        value={typed}
        onChange={(text) => {
          setPlaceId(null);
          setTyped(text);
        }}
        note={`names, numbers, marks, places; only ${WORDS[kind]} can bear this label`}
      />
      {scanning.isError && <Failure error={scanning.error} word="Not found" />}
      {other !== undefined && other.kind !== 'place' && other.kind !== kind && (
        <p role="status">
          That is on {other.name}, a {other.kind}. This label is for {WORDS[kind]}.
        </p>
      )}
      {placeId !== null && <InPlace placeId={placeId} kind={kind} hrefFor={hrefFor} />}
      {placeId === null && q !== '' && <Found q={q} kind={kind} hrefFor={hrefFor} onPlace={setPlaceId} />}
    </Section>
  );
}

type HrefFor = (code: string) => string;

function InPlace({ placeId, kind, hrefFor }: { readonly placeId: string; readonly kind: BlankKind; readonly hrefFor: HrefFor }) {
  const place = useQuery(placeQuery(placeId));
  if (place.isPending) return <Waiting>Fetching what lies there …</Waiting>;
  if (place.data === undefined) return <Failure error={place.error} word="Not shown" />;
  const lying = place.data.contents.filter((thing) => thing.kind === kind);
  if (lying.length === 0)
    return <Empty title={`In ${place.data.path}`}>By the books nothing lies there that could bear this label.</Empty>;
  return (
    <ul className={styles.findings} aria-label={`What lies in ${place.data.path}`}>
      {lying.map((thing) => (
        <Offer key={thing.id} thing={thing} where={place.data.path} href={hrefFor(thing.code)} />
      ))}
    </ul>
  );
}

interface FoundProps {
  readonly q: string;
  readonly kind: BlankKind;
  readonly hrefFor: HrefFor;
  readonly onPlace: (placeId: string) => void;
}

/** A place opens to what lies there, a part to its lots: a lot is found by what it is a lot of. */
function Found({ q, kind, hrefFor, onPlace }: FoundProps) {
  const search = useInfiniteQuery(searchQuery(q));
  if (search.isPending) return <Waiting>Looking for “{q}” …</Waiting>;
  if (search.data === undefined) return <Failure error={search.error} word="Not found out" />;
  const wanted: readonly string[] = kind === 'lot' ? ['lot', 'place', 'part'] : [kind, 'place'];
  const hits = search.data.pages.flatMap((page) => page.hits).filter((hit) => wanted.includes(hit.kind));
  if (hits.length === 0)
    return (
      <Empty title={`Nothing by “${q}”`}>Nothing that could bear this label is called so. Try the place where it lies.</Empty>
    );
  return (
    <ul className={styles.findings} aria-label={`Found for ${q}`}>
      {hits.map((hit) => {
        if (hit.kind === 'part') return <OfPart key={hit.id} part={hit} hrefFor={hrefFor} />;
        if (hit.kind === 'place')
          return (
            <li key={hit.id}>
              <b>{hit.name}</b> <span className="quiet">{hit.where}</span>
              <Button onPress={() => onPlace(hit.id)} label={`What lies there: ${hit.where || hit.name}`}>
                What lies there
              </Button>
            </li>
          );
        return (
          hit.code !== null && (
            <Offer key={hit.id} thing={{ ...hit, code: hit.code }} where={hit.where} href={hrefFor(hit.code)} />
          )
        );
      })}
    </ul>
  );
}

function OfPart({ part, hrefFor }: { readonly part: SearchHit; readonly hrefFor: HrefFor }) {
  const [isOpen, setOpen] = useState(false);
  const lots = useQuery({ ...partQuery(part.id), enabled: isOpen });
  if (!isOpen)
    return (
      <li>
        <b>{part.name}</b> <span className="quiet">{part.detail}</span>
        <Button onPress={() => setOpen(true)} label={`Its lots: ${part.name}`}>
          Its lots
        </Button>
      </li>
    );
  if (lots.data === undefined)
    return <li>{lots.isError ? <Failure error={lots.error} word="Not shown" /> : 'Fetching its lots …'}</li>;
  if (lots.data.lots.length === 0) return <li>Of {part.name} nothing is in stores.</li>;
  return lots.data.lots.map(({ id, code, held, packet, places }) => {
    const detail = [`${held} held`, packet].filter((words) => words !== '').join(', ');
    return <Offer key={id} thing={{ code, name: part.name, detail }} where={places} href={hrefFor(code)} />;
  });
}

interface OfferProps {
  readonly thing: { readonly code: string; readonly name: string; readonly detail: string };
  readonly where: string;
  readonly href: string;
}

function Offer({ thing, where, href }: OfferProps) {
  return (
    <li>
      <Code code={thing.code} size="row" /> <b>{thing.name}</b>
      <span className="quiet">{[thing.detail, where].filter((words) => words !== '').join(', ')}</span>
      <ButtonLink href={href}>It has lost {thing.code}</ButtonLink>
    </li>
  );
}
