import { type Actor, type LineInput, proposeRepair, type Services } from '@grainwright/operations';

/** A line whose repair nobody has chosen yet gets the usual one, to be changed; what can't be read stays as it is. */
export async function withProposal(services: Services, actor: Actor, typed: LineInput): Promise<LineInput> {
  if (isChosen(typed)) return typed;
  const usual = await proposeRepair(services, actor, typed);
  return usual.ok ? { ...typed, family: usual.value.family, methods: usual.value.methods } : typed;
}

/** Takes back what was only proposed, so that another damage gets a proposal of its own. */
export async function withoutProposal(
  services: Services,
  actor: Actor,
  typed: LineInput,
): Promise<LineInput> {
  const usual = await proposeRepair(services, actor, typed);
  if (!usual.ok || typed.family !== usual.value.family) return typed;
  const { methods } = usual.value;
  const isChanged =
    typed.methods.length !== methods.length || methods.some((method) => !typed.methods.includes(method));
  return isChanged ? typed : { ...typed, family: '', methods: [] };
}

function isChosen({ family, rateCode, methods, byHandPrice }: LineInput): boolean {
  return family !== '' || rateCode !== '' || byHandPrice !== '' || methods.length > 0;
}
