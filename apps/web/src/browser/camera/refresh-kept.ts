let asking = false;
let again = false;

/** Takes over from the server what the page lists as kept and as still to take, once something has been sent. */
export async function refreshKept(): Promise<void> {
  again = true;
  if (asking) return;
  asking = true;
  while (again) {
    again = false;
    const fresh = await ask();
    for (const part of fresh === null ? [] : document.querySelectorAll<HTMLElement>('[data-live]')) {
      const next = fresh?.querySelector(`[data-live="${part.dataset.live}"]`);
      // What somebody is typing stays under their fingers.
      if (next && !part.contains(document.activeElement)) part.replaceChildren(...next.childNodes);
    }
    leaveOutWhatIsAsked();
  }
  asking = false;
}

/** What its card asks already about a picture taken just now is not asked again below it. */
export function leaveOutWhatIsAsked(): void {
  for (const asked of document.querySelectorAll<HTMLElement>('[data-live] .look-again')) {
    const card = document.querySelector(`[data-shot="${asked.id.replace('photo-', '')}"]`);
    const sentences = [...asked.querySelectorAll('[data-warning]')].map((each) => each.textContent);
    if (card && sentences.every((sentence) => card.textContent.includes(sentence))) asked.remove();
  }
  const heading = document.querySelector('[data-look-again]');
  if (heading && document.querySelector('[data-live] .look-again') === null) heading.remove();
}

async function ask(): Promise<Document | null> {
  try {
    const reply = await fetch(location.pathname, { headers: { accept: 'text/html' } });
    return reply.ok ? new DOMParser().parseFromString(await reply.text(), 'text/html') : null;
  } catch {
    return null;
  }
}
