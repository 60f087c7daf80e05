import { useSuspenseQuery } from '@tanstack/react-query';
import { keepsBooks, meQuery, workshopQuery } from '../../api/session.js';
import { PageHead } from '../../ui/Section.js';
import { AcceptanceSection } from './AcceptanceSection.js';
import { BuildStandardsSection } from './BuildStandardsSection.js';
import { CalendarSection } from './CalendarSection.js';
import { CatalogueSection } from './CatalogueSection.js';
import { CoreMarksSection } from './CoreMarksSection.js';
import { CountingSection } from './CountingSection.js';
import { ExportSection } from './ExportSection.js';
import { FindingWordsSection } from './FindingWordsSection.js';
import { GradesSection } from './GradesSection.js';
import { ImportSection } from './ImportSection.js';
import { KnownBySection } from './KnownBySection.js';
import { LabelsSection } from './LabelsSection.js';
import { PeopleSection } from './PeopleSection.js';
import { PhotographArchive } from './PhotographArchive.js';
import { ReceiptSection } from './ReceiptSection.js';
import styles from './SettingsScreen.module.css';
import { ThisDeviceSection } from './ThisDeviceSection.js';
import { TypeComponentsSection } from './TypeComponentsSection.js';

/** How this workshop works. What a person may not change is not shown to them, save what concerns their own device. */
export function SettingsScreen() {
  const { data: me } = useSuspenseQuery(meQuery);
  const { data: workshop } = useSuspenseQuery(workshopQuery);
  const keepsStores = keepsBooks(me);
  return (
    <>
      <PageHead title="Settings" note={`${workshop.name}; times in ${workshop.timeZone}, money in ${workshop.currency}`} />
      <div className={styles.sections}>
        {me.role === 'owner' && <PeopleSection me={me} />}
        <LabelsSection mayEdit={keepsStores} />
        {keepsStores && <CalendarSection />}
        {keepsStores && <GradesSection />}
        {keepsStores && <BuildStandardsSection />}
        {keepsStores && <FindingWordsSection />}
        {keepsStores && <TypeComponentsSection />}
        {keepsStores && <AcceptanceSection />}
        {keepsStores && <KnownBySection />}
        {keepsStores && <CoreMarksSection />}
        {keepsStores && <ReceiptSection />}
        {keepsStores && <CountingSection />}
        {keepsStores && <ImportSection />}
        {keepsStores && <ExportSection />}
        {keepsStores && <PhotographArchive />}
        <CatalogueSection />
        <ThisDeviceSection />
      </div>
    </>
  );
}
