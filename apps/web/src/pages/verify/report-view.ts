import {
  type CheckSubject,
  checkSubjects,
  dayWords,
  type PackCheck,
  type PackReport,
  parseDay,
} from '@grainwright/domain';
import { type Html, html } from '../../look/html.ts';
import { notice, statusWord } from '../../look/notices.ts';
import { definitionList } from '../../look/tables.ts';

/** What was found in a pack, the outcome first, with everything that is wrong. */
export function reportView(report: PackReport, fileName: string): Html {
  const { checks, manifest, holdsByItself } = report;
  return html`
    ${outcome(report, fileName)}
    ${
      manifest !== null &&
      html`<section><h2>What it is of</h2>${definitionList([
        { term: 'Work order', value: `WO-${manifest.workOrder.number}` },
        { term: 'Vehicle', value: manifest.vehicle },
        { term: 'Business', value: manifest.business },
        { term: 'Account', value: manifest.account },
        { term: 'As of', value: momentShown(manifest.asOf) },
        { term: 'Signing key', value: html`<code>${manifest.keyId}</code>` },
      ])}</section>`
    }
    <section><h2>What was looked at</h2>${subjects(checks)}</section>
    ${manifest !== null && holdsByItself && sealsSay(manifest.seals)}`;
}

function outcome({ holds, holdsByItself, checks }: PackReport, fileName: string): Html {
  if (holds)
    return notice(
      'done',
      'This pack holds together',
      `Everything that lies in “${fileName}” is as it was signed.`,
    );
  const failed = checks.filter(({ result }) => result === 'fails');
  const sentences = html`<ul>${failed.map(({ sentence }) => html`<li>${sentence}</li>`)}</ul>`;
  return holdsByItself
    ? notice(
        'problem',
        'This pack holds by itself, but not against what you compared it with',
        html`<p>Everything that lies in “${fileName}” is as it was signed. What you compared it with:</p>${sentences}`,
      )
    : notice(
        'problem',
        'This pack does not hold',
        html`<p>“${fileName}” is not as it was signed:</p>${sentences}`,
      );
}

/** The outcome of a file that can’t be checked at all. */
export function unreadableView(sentence: string): Html {
  return html`${notice('problem', 'This file can’t be checked', sentence)}`;
}

function subjects(checks: readonly PackCheck[]): readonly Html[] {
  return Object.entries(checkSubjects)
    .filter(([about]) => checks.some((check) => check.about === about))
    .map(
      ([about, heading]) => html`<h3>${heading}</h3>
        <ul class="checks">${checks.filter((check) => isAbout(check, about)).map(checkShown)}</ul>`,
    );
}

function isAbout(check: PackCheck, about: string): boolean {
  const subject: CheckSubject = check.about;
  return subject === about;
}

const words = {
  holds: statusWord('settled', 'Holds'),
  fails: statusWord('problem', 'Does not hold'),
  note: statusWord('waiting', 'To know'),
} as const;

function checkShown({ result, sentence }: PackCheck): Html {
  return html`<li>${words[result]} <span>${sentence}</span></li>`;
}

function sealsSay(seals: NonNullable<PackReport['manifest']>['seals']): Html {
  return html`<section><h2>What was sealed</h2>${seals.map(
    ({ number, kind, says }) => html`<h3>Seal ${number}, ${kind}</h3>
      ${definitionList(says.map(({ name, value }) => ({ term: name, value: momentShown(value) })))}`,
  )}</section>`;
}

/** A moment as people read it, in the one time that is everybody’s; anything else as it stands. */
function momentShown(text: string): string {
  const found = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d)(?::\d\d(?:\.\d+)?)?Z$/.exec(text);
  const day = parseDay(found?.[1] ?? '');
  return found === null || !day.ok ? text : `${dayWords(day.value)}, ${found[2]} UTC`;
}
