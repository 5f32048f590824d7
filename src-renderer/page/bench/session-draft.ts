import type { Workshop } from '../../state/workshop.ts';
import { SessionForm } from './session-form.svelte.ts';

/** A half-filled session is still there when the person comes back from describing a meter, say. */
const drafts = new WeakMap<Workshop, SessionForm>();

/** The form of this page; a build that an address names is put in. */
export function sessionDraft(workshop: Workshop, buildId: number | null): SessionForm {
  const form = drafts.get(workshop) ?? new SessionForm(workshop.present.settings, buildId);
  drafts.set(workshop, form);
  if (buildId !== null) form.buildId = buildId;
  return form;
}

/** The session is open: the next one begins with an empty form. */
export const dropSessionDraft = (workshop: Workshop): boolean => drafts.delete(workshop);
