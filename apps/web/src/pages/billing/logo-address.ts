/** Where the business's logo is; undefined where it has none. The address changes with the logo. */
export function logoAddress(business: { readonly logoKey: string | null }): string | undefined {
  return business.logoKey === null ? undefined : `/logo?of=${business.logoKey.slice(-12)}`;
}
