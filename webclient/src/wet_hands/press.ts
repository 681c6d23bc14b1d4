/** Was that a finger that meant it? The handlers that every control wears. */
export interface PressHandlers {
  onPointerDown: (event: PointerEvent) => void;
  onClick: (event: MouseEvent) => void;
}

export function press(onTake: () => void): PressHandlers {
  return {
    onPointerDown: () => undefined,
    onClick: () => onTake(),
  };
}
