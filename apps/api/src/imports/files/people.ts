import { Role } from '@corewright/contracts/base';
import { AddPerson } from '@corewright/contracts/people';
import { newId } from '../../platform/new-id.js';
import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';

const selectPerson = 'SELECT display_name, role FROM people WHERE sign_in_name = $1';

/** Who works here. They come in by a one-time link: no file holds a pass phrase. */
export const people: FileReader = {
  file: 'people',
  columns: columns('sign_in_name!', 'display_name!', 'role!'),
  key: ['sign_in_name'],
  async read(row, books) {
    const { transaction } = books;
    const role = row.choice('role', Role.options);
    if (transaction.command.person.role !== 'owner')
      row.fault('sign_in_name', 'Only an owner of the workshop adds people. Leave people.csv out, or let an owner bring it in.');
    const asked = AddPerson.safeParse({
      id: newId(),
      signInName: row.text('sign_in_name'),
      displayName: row.text('display_name'),
      role,
    });
    if (!asked.success && role !== null)
      row.fault('sign_in_name', asked.error.issues[0]?.message ?? 'This cannot be a sign-in name.');
    if (row.faulty || !asked.success) return null;
    const { signInName, displayName } = asked.data;
    const there = await transaction.row(selectPerson, [signInName]);
    if (there) {
      noteDifferences(row, { display_name: displayName, role }, there);
      return 'unchanged';
    }
    const added = await books.handlers.people.handle(transaction, asked.data);
    return added.ok ? 'added' : row.refused('sign_in_name', added.error);
  },
};
