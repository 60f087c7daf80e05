import type { JobCard } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Marks } from '../../ui/Marks.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { Tag } from '../../ui/Tag.js';
import { Timeline } from '../../ui/Timeline.js';
import { Photographs } from '../photographs/Photographs.js';
import { TakePhotographs } from '../photographs/TakePhotographs.js';
import { JobConsumables } from './consumables/JobConsumables.js';
import { EditJobForm } from './EditJobForm.js';
import styles from './JobAside.module.css';

/** Beside the lines: the unit, its photographs, the job's own facts, and what is on the record. */
export function JobAside({ job }: { readonly job: JobCard }) {
  const facts = job.unitFacts;
  return (
    <aside className={styles.aside}>
      <Section title="The unit">
        <Tag
          kind="unit"
          code={job.unit.code}
          href={`/stores/things/${job.unit.id}`}
          fact={facts.grade === '' ? null : `grade ${facts.grade}`}
          what={job.unit.name}
          foot={[`owner ${facts.owner}`, facts.where, facts.weightKg === null ? null : `≈ ${facts.weightKg} kg`]}
        >
          {facts.unitType !== job.unit.name && facts.unitType}
        </Tag>
        {facts.marks !== '' && (
          <p className={styles.marks}>
            Marks: <Marks text={facts.marks} />
          </p>
        )}
      </Section>
      <JobPhotographs job={job} />
      <JobFacts job={job} />
      <JobConsumables jobId={job.id} state={job.state} />
      <JobRecord job={job} />
    </aside>
  );
}

/** Of the unit and of the job, newest first. What is taken here is of the job. */
function JobPhotographs({ job }: { readonly job: JobCard }) {
  const standing = job.pictures.filter(({ struckOut }) => struckOut === null);
  const ofJob = standing.filter(({ subjectId }) => subjectId === job.id);
  return (
    <Section title={standing.length === 0 ? 'Photographs' : `Photographs, ${standing.length}`}>
      <div className={styles.photographs}>
        <Photographs pictures={job.pictures} subject={job.title} subjectIds={[job.id, job.unit.id]} />
        <TakePhotographs subjectId={job.id} taken={ofJob.length} />
      </div>
    </Section>
  );
}

function JobFacts({ job }: { readonly job: JobCard }) {
  const [isEditing, setEditing] = useState(false);
  return (
    <Section title="The job" className={styles.job}>
      {isEditing ? (
        <EditJobForm job={job} onClose={() => setEditing(false)} />
      ) : (
        <Acts>
          <Button onPress={() => setEditing(true)}>Change stage or priority</Button>
          <ButtonLink href={`/labels/${job.code}`}>Label of the job</ButtonLink>
          {job.kit !== 'nothing in the tray' && <ButtonLink href={`/jobs/${job.id}/un-kit`}>Empty the tray</ButtonLink>}
        </Acts>
      )}
    </Section>
  );
}

/** So many entries stand on the card; the rest are one press away. */
const RECENT = 12;

function JobRecord({ job }: { readonly job: JobCard }) {
  const [isWhole, setWhole] = useState(false);
  const entries = isWhole ? job.record : job.record.slice(0, RECENT);
  if (job.record.length === 0) {
    return (
      <Section title="On the record">
        <p className="quiet">Nothing yet. Dates given, fittings, findings and overrides stand here, with who and when.</p>
      </Section>
    );
  }
  return (
    <Section title="On the record" aside={`${job.record.length} entries`}>
      <Timeline
        label="On the record"
        entries={entries.map((entry, index) => ({
          id: `${index}-${entry.at}`,
          when: sayInstant(entry.at, new Date()),
          words: `${entry.by}: ${entry.words}`,
        }))}
      />
      {job.record.length > RECENT && !isWhole && <Button onPress={() => setWhole(true)}>Show all {job.record.length}</Button>}
    </Section>
  );
}
