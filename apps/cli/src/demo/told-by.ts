/** What the heat test or the eye tells of the demo's parts. */
export const vinyl = { observation: 'relaxes_and_lies_down' } as const;
export const urethane = { observation: 'nothing_crumbles_or_flakes' } as const;
export const leather = { observation: 'by_eye', looksLike: 'leather' } as const;
export const hardPlastic = { observation: 'by_eye', looksLike: 'hard_plastic' } as const;
export const fabric = { observation: 'by_eye', looksLike: 'fabric' } as const;
