import {
  type AcceptanceOutcome,
  type AccessLinkId,
  acceptanceOutcomes,
  type SignerRole,
  signerRoles,
} from '@grainwright/domain';

/** Who answered what, for the path of the work order: whoever writes it down is somebody else. */
export function answerWords(answer: {
  readonly outcome: AcceptanceOutcome;
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: SignerRole;
  readonly linkId: AccessLinkId | null;
}): string {
  const { outcome, remark, signerName, signerRole, linkId } = answer;
  const words = acceptanceOutcomes[outcome];
  const who = `${words.charAt(0).toUpperCase()}${words.slice(1)} by ${signerName}, ${signerRoles[signerRole]}${linkId === null ? '' : ', by a link'}`;
  return remark === '' ? `${who}.` : `${who}: ${remark}`;
}
