import type { PhoneAction } from './action.ts';

/** A request to the API that an action comes to. */
export interface ActionRequest {
  readonly method: 'POST';
  readonly path: string;
  readonly body: unknown;
  /** Says when it was done, since it comes later. */
  readonly headers: Readonly<Record<string, string>>;
}

/** The one request that an action is, its file already there under `uploadIdOf(action)`. */
export function requestOf(action: PhoneAction): ActionRequest {
  return { ...placeAndBody(action), method: 'POST', headers: { 'x-grainwright-made-at': action.madeAt } };
}

function placeAndBody(action: PhoneAction): Pick<ActionRequest, 'path' | 'body'> {
  const order = `/api/v1/work-orders/${action.workOrderId}`;
  switch (action.kind) {
    case 'write_up':
      return post('/api/v1/work-orders', action.body);
    case 'line':
      return post(`${order}/lines`, action.body);
    case 'photo': {
      const ids = { photo_id: action.id, upload_id: uploadIdOf(action) };
      return post(`${order}/photos/from-upload`, { ...action.body, ...ids });
    }
    case 'photo_reason': {
      const { photo_id, reason } = action.body;
      return post(`/api/v1/photos/${photo_id}/override`, { override_id: action.id, reason });
    }
    case 'recording': {
      const ids = { recording_id: action.id, upload_id: uploadIdOf(action) };
      return post(`${order}/recordings/from-upload`, { ...action.body, ...ids });
    }
    case 'quote':
      return post(`${order}/quotes`, action.body);
    case 'estimate':
      return post(`${order}/estimate`, action.body);
    case 'start':
      return post(`${order}/start`, action.body);
    case 'finish':
      return post(`${order}/finish`, action.body);
    case 'acceptance':
      return post(`${order}/acceptance`, action.body);
    case 'missing_signature':
      return post(`${order}/missing-signatures`, action.body);
  }
}

/** A file has the id of the action that it belongs to: sent again, it goes on where it was. */
export function uploadIdOf({ id }: PhoneAction): string {
  return id;
}

function post(path: string, body: unknown) {
  return { path, body };
}
