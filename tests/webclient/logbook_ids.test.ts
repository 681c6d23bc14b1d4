import { uuid7 } from "src/logbook/ids";
import { pieceId } from "src/logbook/piece_id";
import { expect, test } from "vitest";

test("a UUIDv7 is the example of RFC 9562, appendix A.6", () => {
  const chance = new Uint8Array([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  expect(uuid7(0x017f22e279b0, chance)).toBe("017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
});

test("a UUIDv7 sorts by its time", () => {
  const most = new Uint8Array(10).fill(255);
  expect(uuid7(1000, most) < uuid7(1001, new Uint8Array(10))).toBe(true);
});

test("two phones give the same number of the same session the same id", () => {
  const session = "01900000-0000-7000-8000-000000000001";
  const [seventh, eighth] = [pieceId(session, 7), pieceId(session, 8)];
  expect([pieceId(session, 7), pieceId(session, 8)]).toEqual([seventh, eighth]);
  expect(seventh).not.toBe(eighth);
});

test("a piece's id is a UUIDv8", () => {
  expect(pieceId("01900000-0000-7000-8000-000000000001", 1)).toMatch(
    /^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/,
  );
});
