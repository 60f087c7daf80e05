import { Role } from '@corewright/contracts/base';
import type { Me, Person } from '@corewright/contracts/people';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { fieldWords } from '../../api/field-words.js';
import { Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { sayInstantFully } from '../../ui/say-when.js';
import { Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { useAddPerson, useEditPerson, useMakeLink } from './actions.js';
import { peopleQuery } from './queries.js';
import styles from './SettingsScreen.module.css';

const roleWords: Readonly<Record<Role, string>> = {
  owner: 'owner: everything',
  stores: 'stores: everything but people',
  bench: 'bench: scans, findings, hours, pictures, labels',
  viewer: 'viewer: looks only',
};
const roleChoices = Role.options.map((role) => ({ value: role, label: roleWords[role] }));

/** Who may do what. Nobody is removed: what they did keeps their name; a person who has left is switched off. */
export function PeopleSection({ me }: { readonly me: Me }) {
  const people = useQuery(peopleQuery);
  const link = useMakeLink();
  return (
    <Section title="People" aside={people.data === undefined ? undefined : `${people.data.people.length}`}>
      <div className={styles.columns}>
        <div className={styles.stack}>
          {people.data === undefined && people.error === null && <Waiting>People are being fetched.</Waiting>}
          {people.error !== null && <Failure word="Not shown" error={people.error} />}
          {people.data !== undefined && (
            <PeopleTable people={people.data.people} me={me} onLink={(person) => link.mutate(person)} />
          )}
          {link.data !== undefined && (
            <div className={styles.link} role="status">
              <p>
                Give this link to <b>{link.data.person.displayName}</b>. It works once, until{' '}
                {sayInstantFully(link.data.expiresAt)}, and whoever opens it chooses the pass phrase. It is shown only now.
              </p>
              <p className={styles.address}>{link.data.address}</p>
            </div>
          )}
          {link.error !== null && <Failure word="No link" error={link.error} />}
        </div>
        <AddPersonForm />
      </div>
    </Section>
  );
}

function PeopleTable({
  people,
  me,
  onLink,
}: {
  readonly people: readonly Person[];
  readonly me: Me;
  readonly onLink: (person: Person) => void;
}) {
  const edit = useEditPerson();
  return (
    <>
      <Table
        caption="People of the workshop"
        rows={people}
        rowKey={(person) => person.id}
        columns={[
          { key: 'name', head: 'name', isLead: true, cell: (person) => <b>{person.displayName}</b> },
          { key: 'sign-in', head: 'signs in as', cell: (person) => person.signInName },
          {
            key: 'role',
            head: 'role',
            cell: (person) => (
              <SelectField
                label={`Role of ${person.displayName}`}
                isLabelHidden
                value={person.role}
                choices={roleChoices}
                isDisabled={person.id === me.id}
                onChange={(role) => edit.mutate({ person, role, active: person.active })}
              />
            ),
          },
          { key: 'state', head: 'state', cell: (person) => stateWords(person) },
          {
            key: 'acts',
            head: 'acts',
            cell: (person) => (
              <span className={styles.acts}>
                <Button
                  look="plain"
                  onPress={() => onLink(person)}
                  label={`Link for a new pass phrase for ${person.displayName}`}
                >
                  New pass phrase
                </Button>
                {person.id !== me.id && (
                  <Button
                    look="plain"
                    label={`${person.active ? 'Switch off' : 'Switch on'} ${person.displayName}`}
                    onPress={() => edit.mutate({ person, role: person.role, active: !person.active })}
                  >
                    {person.active ? 'Switch off' : 'Switch on'}
                  </Button>
                )}
              </span>
            ),
          },
        ]}
      />
      {edit.error !== null && <Failure word="Not changed" error={edit.error} />}
    </>
  );
}

function stateWords(person: Person): string {
  if (!person.active) return 'switched off';
  return person.hasPassPhrase ? 'may sign in' : 'has no pass phrase yet';
}

function AddPersonForm() {
  const [keyed, setKeyed] = useState<{ displayName: string; signInName: string; role: Role }>({
    displayName: '',
    signInName: '',
    role: 'bench',
  });
  const add = useAddPerson();
  const send = () =>
    add.mutate(keyed, {
      onSuccess: () => setKeyed({ displayName: '', signInName: '', role: 'bench' }),
    });
  return (
    <Form label="Add a person" onSubmit={send}>
      <TextField
        label="Name"
        value={keyed.displayName}
        onChange={(displayName) => setKeyed({ ...keyed, displayName })}
        error={fieldWords(add.error, 'displayName')}
        isRequired
      />
      <TextField
        label="Sign-in name"
        value={keyed.signInName}
        onChange={(signInName) => setKeyed({ ...keyed, signInName })}
        error={fieldWords(add.error, 'signInName')}
        isRequired
      />
      <SelectField label="Role" value={keyed.role} choices={roleChoices} onChange={(role) => setKeyed({ ...keyed, role })} />
      <Button type="submit" isPending={add.isPending}>
        Add this person
      </Button>
      {add.data !== undefined && add.error === null && (
        <p role="status">{add.data.displayName} is added. Make a link for their pass phrase beside their name.</p>
      )}
      {add.error !== null && <Failure word="Not added" error={add.error} kept="What you keyed is still there." />}
    </Form>
  );
}
