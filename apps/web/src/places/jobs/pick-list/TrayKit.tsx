import { useQuery } from '@tanstack/react-query';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { MiniTag } from '../../../ui/Tag.js';
import { Missing } from './KitOfJob.js';
import styles from './PickList.module.css';
import { pickListOf, trayKitQuery } from './queries.js';
import { sayKit } from './say-kit.js';

/** On the page of a kit tray: whose it is, and what is still missing from it. Nothing where its job is closed. */
export function TrayKit({ trayId }: { readonly trayId: string }) {
  const kit = useQuery(trayKitQuery(trayId));
  if (kit.isError)
    return (
      <Failure error={kit.error} word="Not found out" choices={<Button onPress={() => void kit.refetch()}>Try again</Button>} />
    );
  const job = kit.data?.job ?? null;
  if (job === null) return null;
  return (
    <Section title="What is missing from it" aside={job.kit}>
      <p className={styles.kitHead}>
        <MiniTag code={job.code} href={`/jobs/${job.id}`} /> <span>{job.name}</span>
      </p>
      <p className="read">{sayKit(job)}</p>
      <Missing job={job} />
      <Acts>
        <ButtonLink href={pickListOf([job.id])}>Pick list</ButtonLink>
        <ButtonLink href={`/jobs/${job.id}/un-kit`}>Empty the tray</ButtonLink>
        <ButtonLink href={`/api/trays/${trayId}/missing-label.pdf`} opensDocument>
          Label of what is missing, tag
        </ButtonLink>
        <ButtonLink href={`/api/trays/${trayId}/missing-label.pdf?stock=bag%20label`} opensDocument>
          The same, bag label
        </ButtonLink>
      </Acts>
    </Section>
  );
}
