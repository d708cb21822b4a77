import type { FastifyRequest } from 'fastify';

/**
 * Whether the request is for the API: by the route that it came to, since an address can be spelled in many ways.
 * Where there is no such route, only the kind of answer hangs on it.
 */
export function isApi(request: FastifyRequest): boolean {
  const route = request.routeOptions.url;
  return (route ?? plainPath(request.url)).startsWith('/api/');
}

function plainPath(url: string): string {
  const path = url.split('?', 1)[0] ?? '';
  try {
    return decodeURIComponent(path);
  } catch {
    return path;
  }
}
