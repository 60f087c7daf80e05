import { type EditPicture, PictureShown } from '@corewright/contracts/pictures';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';

/** Everything that shows photographs looks again. */
function useShownAnew() {
  const client = useQueryClient();
  return () =>
    Promise.all(
      ['stores', 'counting', 'goods-in', 'jobs', 'settings'].map((area) => client.invalidateQueries({ queryKey: [area] })),
    );
}

/** Writes under a photograph, and says whether it shows the marks. */
export function useEditPicture(picture: PictureShown, onDone: () => void) {
  const shownAnew = useShownAnew();
  return useMutation({
    mutationFn: (edit: EditPicture) =>
      api.send(PictureShown, 'PATCH', `/api/pictures/${picture.id}`, edit, { key: newKey(), ifMatch: `"${picture.version}"` }),
    onSuccess: async () => {
      await shownAnew();
      onDone();
    },
  });
}

/** Strikes a photograph out; it stays on the record with the reason. */
export function useStrikePicture(picture: PictureShown, onDone: () => void) {
  const shownAnew = useShownAnew();
  return useMutation({
    mutationFn: (reason: string) =>
      api.send(PictureShown, 'POST', `/api/pictures/${picture.id}/strike`, { reason }, { key: newKey() }),
    onSuccess: async () => {
      await shownAnew();
      onDone();
    },
  });
}
