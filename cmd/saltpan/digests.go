package main

import (
	"context"
	"encoding/json"
	"fmt"

	"saltpan/pipeline"
	"saltpan/pipeline/record"
	"saltpan/store"
)

// digests are those of the activities; missing ones are taken from the samples
// and kept.
func (e *env) digests(ctx context.Context, st *store.Store, activities []record.Activity) (map[string]pipeline.Digest, error) {
	kept, err := st.Digests(ctx, pipeline.DigestMethod)
	if err != nil {
		return nil, err
	}
	out, fresh := map[string]pipeline.Digest{}, map[string][]byte{}
	for _, a := range activities {
		var d pipeline.Digest
		if body, ok := kept[a.ID]; ok && json.Unmarshal(body, &d) == nil {
			out[a.ID] = d
			continue
		}
		if a.Samples, err = st.Samples(ctx, a.ID); err != nil {
			return nil, fmt.Errorf("samples of %s: %w", a.Origin, err)
		}
		d = pipeline.NewDigest(a)
		out[a.ID] = d
		if fresh[a.ID], err = json.Marshal(d); err != nil {
			return nil, fmt.Errorf("digest of %s: %w", a.Origin, err)
		}
	}
	if len(fresh) == 0 {
		return out, nil
	}
	return out, st.PutDigests(ctx, pipeline.DigestMethod, fresh)
}
