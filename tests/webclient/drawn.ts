import { isValidElement, type VNode } from "preact";

/** What a drawing without hooks comes to: its elements, deepest included, in their order. */
export function elements(node: unknown): { type: string; props: Record<string, unknown> }[] {
  if (Array.isArray(node)) return node.flatMap(elements);
  if (!isValidElement(node as object)) return [];
  const { type, props } = node as VNode<Record<string, unknown>>;
  if (typeof type === "function") return elements((type as (props: unknown) => unknown)(props));
  return [{ type: String(type), props }, ...elements(props["children"])];
}

export function withClass(node: unknown, name: string): Record<string, unknown>[] {
  return elements(node)
    .map((element) => element.props)
    .filter((props) => String(props["class"] ?? "").split(" ").includes(name));
}

/** What a person reads of it, buttons and their outlines aside. */
export const said = (node: unknown): string =>
  elements(node)
    .filter(({ type }) => type === "p" || type === "span" || type === "strong")
    .flatMap(({ props }) => [props["children"]].flat(9))
    .filter((each) => typeof each === "string")
    .join(" ")
    .replaceAll(/\s+/g, " ");
