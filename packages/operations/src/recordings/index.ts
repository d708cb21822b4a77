export { type AddedRecording, type AddRecordingInput, addRecording } from './add-recording.ts';
export { type OpenedRecording, type OpenRecordingInput, openRecording } from './open-recording.ts';
