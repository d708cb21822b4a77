import { displayMoney, type PersonId } from '@grainwright/domain';
import { passedOnWords, type WorkOrderView } from '@grainwright/operations';
import type { Html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';

/** That answers above somebody’s limit were passed on, as their own reader or somebody else is told; null: none were. */
export function passedOnNotice(view: WorkOrderView, reader: PersonId | null): Html | null {
  if (view.state !== 'awaiting_approval') return null;
  const own = view.asking.passedOn.find(({ passedBy }) => passedBy.id === reader);
  if (own !== undefined) return notice('info', 'Passed on', passedOnWords(own));
  const [latest] = view.asking.passedOn;
  if (latest === undefined) return null;
  const { passedBy, passedTo, comparedMinor, limitMinor, currency } = latest;
  const amount = (minor: bigint) => displayMoney(minor, currency);
  const above = `${passedBy.name} went through it: ${amount(comparedMinor)} before trip and tax is above their limit of ${amount(limitMinor)}.`;
  const who =
    passedTo === null
      ? 'Nobody else of the account may approve as much.'
      : passedTo.id === reader
        ? 'It is yours to answer; the form starts with their ticks.'
        : `${passedTo.name} was asked by e-mail, with their ticks.`;
  return notice(passedTo === null ? 'problem' : 'info', 'Passed on', `${above} ${who}`);
}
