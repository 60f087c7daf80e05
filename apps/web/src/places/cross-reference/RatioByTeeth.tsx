import { type Hunting, huntingOf, type Mesh, ratioOf, sayRatio, turnsUntilSameTeeth, whyNoTeeth } from '@corewright/gears/ratio';
import { Fragment, useEffect, useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Empty } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Section } from '../../ui/Section.js';
import { Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { type MeshKeyed, meshesAsked, meshesMax, noMesh, teethOf } from './ratio-asked.js';
import { useTypesOfRatio } from './use-types-of-ratio.js';

export interface RatioByTeethProps {
  readonly teeth: string;
  readonly onAsk: (teeth: string) => void;
}

export const huntingWords: Readonly<Record<Hunting, string>> = {
  hunting: 'Hunting: each tooth meets every tooth of the other gear before it meets the same one again.',
  'partly hunting': 'Partly hunting: each tooth meets only some of the other gear’s teeth.',
  'not hunting': 'Not hunting: a tooth always meets the same few. Mark which teeth ran together before you part the gears.',
};

/** Counted teeth: the ratio, and how often the same teeth meet. */
export function RatioByTeeth({ teeth, onAsk }: RatioByTeethProps) {
  const [meshes, setMeshes] = useState<readonly MeshKeyed[]>(() => meshesAsked(teeth));
  useEffect(() => setMeshes(meshesAsked(teeth)), [teeth]);
  const set = (index: number, change: Partial<MeshKeyed>) =>
    setMeshes((before) => before.map((mesh, at) => (at === index ? { ...mesh, ...change } : mesh)));
  const named = (label: string, index: number) => (index === 0 ? label : `${label}, mesh ${index + 1}`);
  return (
    <>
      <Section title="A ratio by counted teeth">
        <Form label="A ratio by counted teeth" onSubmit={() => onAsk(teethOf(meshes))}>
          <FieldPair>
            {meshes.map((mesh, index) => (
              <Fragment key={index}>
                <TextField
                  label={named('Teeth of the driver', index)}
                  value={mesh.driver}
                  onChange={(driver) => set(index, { driver })}
                  note={index === 0 ? 'of a worm, its starts' : 'the gear that the one before turns with it'}
                  inputMode="numeric"
                  maxLength={4}
                />
                <TextField
                  label={named('Teeth of the driven', index)}
                  value={mesh.driven}
                  onChange={(driven) => set(index, { driven })}
                  inputMode="numeric"
                  maxLength={4}
                />
              </Fragment>
            ))}
          </FieldPair>
          <Acts>
            <Button type="submit" look="main">
              Reckon the ratio
            </Button>
            {meshes.length < meshesMax && (
              <Button onPress={() => setMeshes((before) => [...before, noMesh])}>Another mesh behind it</Button>
            )}
            {meshes.length > 1 && (
              <Button look="plain" onPress={() => setMeshes((before) => before.slice(0, -1))}>
                Leave the last mesh out
              </Button>
            )}
          </Acts>
        </Form>
      </Section>
      {teeth !== '' && <TeethAnswer meshes={meshesAsked(teeth).map(meshOf)} />}
    </>
  );
}

const meshOf = ({ driver, driven }: MeshKeyed): Mesh => ({ driver: countOf(driver), driven: countOf(driven) });

/** What is no whole number is none at all: the library says how to count. */
const countOf = (keyed: string): number => (/^\d{1,4}$/.test(keyed) ? Number(keyed) : Number.NaN);

function TeethAnswer({ meshes }: { readonly meshes: readonly Mesh[] }) {
  const typesOf = useTypesOfRatio();
  const why = meshes.map(whyNoTeeth).find((words) => words !== null);
  if (why !== undefined)
    return (
      <Section title="No ratio yet">
        <Empty title="Count again">{why}</Empty>
      </Section>
    );
  const ratio = ratioOf(meshes);
  const rows = meshes.map((mesh, index) => ({ mesh, number: index + 1 }));
  const types = typesOf(ratio);
  const isSlower = ratio.numerator >= ratio.denominator;
  return (
    <Section title={`${sayRatio(ratio)} to 1`} aside={`${ratio.numerator} to ${ratio.denominator} in whole numbers`}>
      <p>
        {isSlower
          ? `The input turns ${sayRatio(ratio)} times for one turn of the output.`
          : `The output turns faster than the input: ${sayRatio(ratio)} of a turn of the input for one of the output.`}{' '}
        {types === '' ? 'No unit type in the books has this ratio.' : `In the books: ${types}.`}
      </p>
      <Table
        caption="Mesh by mesh"
        rows={rows}
        rowKey={({ number }) => `${number}`}
        columns={[
          {
            key: 'mesh',
            head: 'driver, driven',
            isLead: true,
            width: '150px',
            cell: ({ mesh }) => (
              <b>
                {mesh.driver} and {mesh.driven}
              </b>
            ),
          },
          { key: 'ratio', head: 'ratio', width: '110px', cell: ({ mesh }) => sayRatio(ratioOf([mesh])) },
          { key: 'hunting', head: 'do the same teeth meet', isWide: true, cell: ({ mesh }) => sayMeeting(mesh) },
        ]}
      />
    </Section>
  );
}

function sayMeeting(mesh: Mesh): string {
  const turns = turnsUntilSameTeeth(mesh);
  return `${huntingWords[huntingOf(mesh)]} The same two teeth meet again after ${
    turns === 1 ? 'each turn' : `${turns} turns`
  } of the driver.`;
}
