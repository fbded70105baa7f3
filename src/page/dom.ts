/** Elements without a framework: text goes in as text only. */

type Child = Node | string;
type Handlers = Readonly<Record<string, (event: Event) => void>>;

/** An element with its attributes, what happens at it, and what it holds. */
export function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Readonly<Record<string, string>> = {},
  children: readonly Child[] = [],
  handlers: Handlers = {},
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  for (const [event, handler] of Object.entries(handlers)) made.addEventListener(event, handler);
  made.append(...children);
  return made;
}

/** Puts other content in the place of what an element holds. */
export const fill = (place: Element, children: readonly Child[]): void => place.replaceChildren(...children);
