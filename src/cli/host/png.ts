// SVG to PNG with the font of the package: never the system's, so that the same picture gives the same bytes
// on any machine. Letters that the font lacks (it has Latin, Greek and Cyrillic) stay blank.
import { createRequire } from 'node:module';
import { renderAsync } from '@resvg/resvg-js';

const require = createRequire(import.meta.url);

/** Pixels of the picture for each pixel of the drawing: sharp on a fine screen, and in print. */
const zoom = 2;

export async function pngOf(svg: string): Promise<Uint8Array> {
  const image = await renderAsync(svg, {
    fitTo: { mode: 'zoom', value: zoom },
    font: {
      loadSystemFonts: false,
      fontFiles: [
        require.resolve('@expo-google-fonts/inter/400Regular/Inter_400Regular.ttf'),
        require.resolve('@expo-google-fonts/inter/600SemiBold/Inter_600SemiBold.ttf'),
      ],
      defaultFontFamily: 'Inter',
    },
  });
  return image.asPng();
}
