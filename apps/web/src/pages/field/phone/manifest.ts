/**
 * The web app manifest (W3C): by it a phone puts the field pages on its home screen and opens them without the
 * browser's own bars.
 */
export const manifest = {
  id: '/field',
  name: 'Grainwright',
  short_name: 'Grainwright',
  description: 'Write-ups, photos and acceptances at the vehicle, with and without signal.',
  lang: 'en-US',
  start_url: '/field',
  scope: '/field',
  display: 'standalone',
  background_color: '#faf7f2',
  theme_color: '#faf7f2',
  icons: [
    { src: '/field/icon-192.png', sizes: '192x192', type: 'image/png', purpose: 'any' },
    { src: '/field/icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
    { src: '/field/icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
    { src: '/field/icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' },
  ],
} as const;
