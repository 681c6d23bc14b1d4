/** The phone's camera reads the square in this page, where the browser can tell a square from a jar. */
import { useEffect, useRef } from "preact/hooks";
import { codeIn } from "./rules";
import * as words from "./words";

interface Detector {
  detect: (from: HTMLVideoElement) => Promise<{ rawValue: string }[]>;
}
const Reads = (): (new (how: { formats: string[] }) => Detector) | undefined =>
  (globalThis as { BarcodeDetector?: new (how: { formats: string[] }) => Detector }).BarcodeDetector;

export const canRead = (): boolean => Reads() !== undefined && navigator.mediaDevices !== undefined;

const LOOKS_EVERY_MS = 250;

export function Camera(p: { onCode: (code: string) => void; onFailed: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  useEffect(() => {
    let stream: MediaStream | null = null;
    let over = false;
    const end = (): void => {
      over = true;
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
    const read = async (): Promise<void> => {
      const [Detector, shown] = [Reads(), video.current];
      if (!Detector || !shown) return;
      const detector = new Detector({ formats: ["qr_code"] });
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
      if (over) return end();
      shown.srcObject = stream;
      await shown.play();
      while (!over) {
        for (const { rawValue } of await detector.detect(shown)) {
          const code = codeIn(rawValue);
          if (code === null || over) continue;
          end();
          p.onCode(code);
        }
        await new Promise((done) => setTimeout(done, LOOKS_EVERY_MS));
      }
    };
    read().catch(() => {
      if (!over) p.onFailed();
      end();
    });
    return end;
  }, []);
  return <video ref={video} class="pairing-square" aria-label={words.camera_said} muted playsInline />;
}
